// SPDX-License-Identifier: MIT
#include "cli/json/json_values.hpp"
#include "cli/json/message_json.hpp"
#include "cli/json/uncertainty_json.hpp"
#include "cli/text/survey_text.hpp"
#include "solver/piece/version.hpp"

#include <nlohmann/json.hpp>

namespace hollowtop::cli {
namespace {

using Json = nlohmann::ordered_json;

Json or_null(const std::optional<double>& value) { return value ? Json(finite(*value)) : Json(nullptr); }

Json json_of(const SurveyCheck& check) {
    if (!check.result) return {{"verdict", "not possible"}, {"problem", check.problem}};
    const StudyRow& row = check.row;
    return {{"verdict", row.passes ? "passes" : "fails"},
            {"governing",
             {{"check", row.governing_check},
              {"situation", row.governing_situation},
              {"utilisation", finite(row.utilisation)}}},
            {"sag_mm", finite(row.sag_mm)},
            {"sag_limit_mm", finite(row.sag_limit_mm)},
            {"sag_years_mm", or_null(row.sag_years_mm)},
            {"dish_mm", or_null(row.dish_mm)},
            {"mass_kg", finite(row.mass_kg)}};
}

Json values(const std::vector<double>& all) {
    return json_list<Json>(all, [](double value) { return finite(value); });
}

Json json_of(const RecessSurvey& one, const Piece& piece) {
    Json out = {{"recess", piece.recesses[static_cast<std::size_t>(one.recess)].name},
                {"readings", one.n_readings},
                {"drawn_mm", finite(one.drawn)}};
    if (one.n_readings == 0) return out;
    out["mean_mm"] = finite(one.mean_skin);
    out["thinnest"] = {{"at_mm", json_point<Json>(one.thinnest_at)},
                       {"skin_mm", finite(one.thinnest.mean)},
                       {"sd_mm", finite(one.thinnest.sd)}};
    out["mean_sd_mm"] = finite(one.mean_sd);
    out["bumps"] = {{"sill_mm", finite(one.bumps.sill)}, {"range_mm", finite(one.bumps.range)}};
    out["grid"] = {{"x_mm", {finite(one.mean.box.x0), finite(one.mean.box.x1)}},
                   {"y_mm", {finite(one.mean.box.y0), finite(one.mean.box.y1)}},
                   {"columns", one.mean.nx},
                   {"rows", one.mean.ny},
                   {"skin_mm", values(one.mean.thickness)},
                   {"sd_mm", values(one.sd.thickness)}};
    return out;
}

Json json_of(const Mend& mend) {
    Json out = {{"kind", key_of(mend.kind)}, {"verdict", mend.passes() ? "passes" : "fails"}};
    if (mend.place) out["at_mm"] = json_point<Json>(mend.place->at);
    if (mend.kind == Mend::Kind::patch)
        out["size_mm"] = Json::array({finite(mend.size_x), finite(mend.size_y)});
    if (mend.kind == Mend::Kind::patches) out["count"] = static_cast<int>(mend.size_x);
    if (mend.skin > 0) out["skin_mm"] = finite(mend.skin);
    if (mend.bar) {
        out["section"] = mend.bar->section;
        out["from_mm"] = json_point<Json>(mend.bar->from);
        out["to_mm"] = json_point<Json>(mend.bar->to);
    }
    out["routed"] = json_of(mend.routed);
    out["low"] = json_of(mend.low);
    return out;
}

} // namespace

std::string survey_json(const Piece& piece, const SurveyAnswer& answer, const SurveyStory& story) {
    const Survey& survey = answer.survey;
    Json out = {{"hollowtop", 1},
                {"version", program_version},
                {"title", piece.title},
                {"verdict", answer.passes() ? "passes" : "fails"},
                {"readings",
                 {{"given", survey.n_readings},
                  {"used", survey.n_used},
                  {"averaged", survey.averaged},
                  {"gauge_sd_mm", finite(survey.options.gauge_sd)}}}};
    out["named"] = json_list<Json>(survey.named, [](const NamedReading& one) {
        return Json{{"line", one.reading.line > 0 ? Json(one.reading.line) : Json(nullptr)},
                    {"at_mm", json_point<Json>(one.reading.at)},
                    {"thickness_mm", finite(one.reading.thickness)},
                    {"used", one.used},
                    {"why", one.why}};
    });
    out["checked"] = {
        {"drawn", json_of(answer.drawn)}, {"routed", json_of(answer.routed)}, {"low", json_of(answer.low)}};
    out["recesses"] =
        json_list<Json>(survey.recesses, [&](const RecessSurvey& one) { return json_of(one, piece); });
    out["rim"] = survey.rim ? Json{{"readings", survey.rim->n_readings},
                                   {"drawn_mm", finite(survey.rim->drawn)},
                                   {"mean_mm", finite(survey.rim->mean)},
                                   {"low_mm", finite(survey.rim->low)},
                                   {"thinnest_mm", finite(survey.rim->thinnest.mean)},
                                   {"thinnest_at_mm", json_point<Json>(survey.rim->thinnest_at)},
                                   {"thickest_mm", finite(survey.rim->thickest.mean)},
                                   {"thickest_at_mm", json_point<Json>(survey.rim->thickest_at)},
                                   {"wanders", wanders(*survey.rim)}}
                            : Json(nullptr);
    out["thin_places"] = json_list<Json>(answer.places, [&](const ThinPlace& place) {
        return Json{{"recess", piece.recesses[static_cast<std::size_t>(place.recess)].name},
                    {"at_mm", json_point<Json>(place.at)},
                    {"skin_mm", finite(place.skin.mean)},
                    {"sd_mm", finite(place.skin.sd)},
                    {"under_drawn_mm", finite(place.under_drawn)},
                    {"x_mm", {finite(place.extent.x0), finite(place.extent.x1)}},
                    {"y_mm", {finite(place.extent.y0), finite(place.extent.y1)}}};
    });
    out["mends"] = json_list<Json>(answer.mends, [](const Mend& mend) { return json_of(mend); });
    out["band"] = answer.band ? Json{{"sag_mm", json_band<Json>(answer.band->sag_mm)},
                                     {"check", answer.band->check},
                                     {"utilisation", json_band<Json>(answer.band->utilisation)},
                                     {"solves", answer.band->n_solves}}
                              : Json(nullptr);
    out["gauge_next"] = answer.next ? Json{{"at_mm", json_point<Json>(answer.next->at)},
                                           {"sd_mm", finite(answer.next->sd)},
                                           {"of", answer.next_for},
                                           {"removes", finite(answer.next->removes)}}
                                    : Json(nullptr);
    out["notes"] = story.notes;
    out["cautions"] = story.cautions;
    return out.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

} // namespace hollowtop::cli
