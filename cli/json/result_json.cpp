// SPDX-License-Identifier: MIT
#include "cli/json/result_json.hpp"

#include "cli/json/json_values.hpp"
#include "cli/json/message_json.hpp"
#include "cli/json/uncertainty_json.hpp"
#include "solver/hand/hand_rows.hpp"

#include <nlohmann/json.hpp>

#include <array>
#include <cmath>
#include <optional>

namespace hollowtop::cli {
namespace {

using Json = nlohmann::ordered_json;

Json number(double value) { return finite(value); }

Json number(const std::optional<double>& value) { return value ? number(*value) : Json(nullptr); }

Json point(Point at) { return json_point<Json>(at); }

Json triple(const std::array<double, 3>& values) {
    return Json::array({number(values[0]), number(values[1]), number(values[2])});
}

template <class Values, class ToJson> Json list(const Values& values, ToJson to_json) {
    return json_list<Json>(values, to_json);
}

const char* word_of(Stage stage) {
    switch (stage) {
    case Stage::at_once:
        return "at once";
    case Stage::years:
        return "after the years";
    case Stage::passing:
        return "passing";
    }
    return "";
}

Json mass(const Mass& m) {
    return {{"solid_kg", number(m.solid_kg)},           {"top_kg", number(m.top_kg)},
            {"stiffeners_kg", number(m.stiffeners_kg)}, {"cover_kg", number(m.cover_kg)},
            {"total_kg", number(m.total_kg)},           {"saved_kg", number(m.saved_kg)},
            {"saved_percent", number(m.saved_percent)}};
}

Json reaction(const Reaction& r) {
    return {{"support", r.support}, {"force_N", number(r.force_N)}, {"lifts", r.lifts}};
}

Json probe(const ProbeReading& p) {
    return {{"at_mm", point(p.at)},
            {"w_mm", number(p.w_mm)},
            {"stress_top_MPa", triple(p.stress_top_MPa)},
            {"stress_bottom_MPa", triple(p.stress_bottom_MPa)},
            {"moment_N", triple(p.moment_N)}};
}

Json situation(const SituationResult& s) {
    return {{"name", s.name},
            {"duration", hollowtop::to_word(s.duration)},
            {"stage", word_of(s.stage)},
            {"for", hollowtop::to_word(s.judged_for)},
            {"set_down", number(s.set_down)},
            {"sag_mm", number(s.sag_mm)},
            {"sag_at_mm", point(s.sag_at)},
            {"sag_limit_mm", s.sag_limit_mm > 0 ? number(s.sag_limit_mm) : Json(nullptr)},
            {"span_mm", number(s.span_mm)},
            {"overhang_governs", s.overhang_governs},
            {"flatness_mm", number(s.flatness_mm)},
            {"flatness_at_mm", s.flatness_mm ? point(s.flatness_at) : Json(nullptr)},
            {"straightedge_mm", s.flatness_mm
                                    ? Json::array({point(s.straightedge[0]), point(s.straightedge[1])})
                                    : Json(nullptr)},
            {"flatness_limit_mm", number(s.flatness_limit_mm)},
            {"dish_mm", number(s.dish_mm)},
            {"dish_at_mm", s.dish_mm ? point(s.dish_at) : Json(nullptr)},
            {"applied_N", number(s.applied_N)},
            {"load_at_mm", s.load_at ? point(*s.load_at) : Json(nullptr)},
            {"reactions", list(s.reactions, reaction)},
            {"equilibrium_error", number(s.equilibrium_error)},
            {"residual", number(s.residual)},
            {"tipping_factor", number(s.tipping_factor)},
            {"tipping_factor_solid", number(s.tipping_factor_solid)},
            {"buckling_factor", number(s.buckling_factor)},
            {"probes", list(s.probes, probe)}};
}

Json check(const CheckResult& c) {
    return {{"check", c.check},
            {"situation", c.situation},
            {"demand", number(c.demand)},
            {"capacity", number(c.capacity)},
            {"unit", c.unit},
            {"utilisation", number(c.utilisation)},
            {"margin", number(c.margin)},
            {"at_mm", c.at ? point(*c.at) : Json(nullptr)},
            {"basis", c.basis},
            {"advice", c.advice},
            {"remedy", c.remedy},
            {"error_percent", number(c.error_percent)},
            {"factors", c.factors.empty() ? Json(nullptr) : Json(c.factors)},
            {"demand_unfactored", number(c.demand_unfactored)}};
}

Json stiffener(const StiffenerResult& s) {
    return {{"name", s.name},
            {"section", s.section},
            {"mass_kg", number(s.mass_kg)},
            {"max_stress_MPa", number(s.max_stress_MPa)},
            {"composite_action", number(s.composite_action)},
            {"not_judged", s.not_judged.empty() ? Json(nullptr) : Json(s.not_judged)}};
}

Json screw(const ScrewResult& s) {
    return {{"stiffener", s.stiffener},
            {"at_mm", point(s.at)},
            {"slip_mm", number(s.slip_mm)},
            {"shear_N", number(s.shear_N)},
            {"withdrawal_N", number(s.withdrawal_N)},
            {"utilisation", number(s.utilisation)}};
}

Json stiffening(const Stiffening& s) {
    return {{"situation", s.situation},
            {"sag_without_mm", number(s.without_mm)},
            {"sag_with_mm", number(s.with_mm)},
            {"sag_bonded_mm", number(s.bonded_mm)}};
}

/// One row of the grid a list, four decimals: a picture needs no more.
Json picture(const std::vector<std::optional<double>>& values, std::size_t across) {
    Json rows = Json::array();
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (i % across == 0) rows.push_back(Json::array());
        rows.back().push_back(values[i] ? number(std::round(*values[i] * 1e4) / 1e4) : Json(nullptr));
    }
    return rows;
}

Json travel(const Travel& t) {
    return {{"load", t.load},
            {"places_tried", t.n_places},
            {"x_mm", list(t.xs, [](double x) { return number(x); })},
            {"y_mm", list(t.ys, [](double y) { return number(y); })},
            {"fields", list(t.fields, [&](const Travel::Field& field) {
                 return Json{{"check", field.check},
                             {"worst", number(field.worst_utilisation)},
                             {"worst_at_mm", point(field.worst_at)},
                             {"utilisation", picture(field.utilisation, t.xs.size())}};
             })}};
}

Json skin_push(const SkinPush& p) {
    return {{"push", p.push},
            {"recess", p.recess},
            {"skin_mm", number(p.skin_mm)},
            {"at_mm", point(p.at)},
            {"force_N", number(p.force_N)},
            {"size_mm", number(p.size_mm)},
            {"dish_mm", number(p.dish_mm)},
            {"dish_limit_mm", number(p.dish_limit_mm)},
            {"clear_width_mm", number(p.clear_width_mm)},
            {"stress_top_MPa", triple(p.stress_top_MPa)},
            {"stress_bottom_MPa", triple(p.stress_bottom_MPa)},
            {"shear_MPa", Json::array({number(p.shear_MPa[0]), number(p.shear_MPa[1])})},
            {"pressure_MPa", number(p.pressure_MPa)},
            {"strength_used", number(p.strength_used)},
            {"used_by", p.used_by},
            {"source", p.source}};
}

Json sag_in_time(const SagInTime& s) { return {{"years", number(s.years)}, {"sag_mm", number(s.sag_mm)}}; }

/// What is changed, from where to where.
Json changed(const Remedy& c) {
    Json out{{"kind", c.kind}};
    if (c.kind == "section" || c.kind == "wood") {
        out[c.kind] = c.kind == "wood" ? c.wood : c.section;
        return out;
    }
    if (c.kind == "hold_down") return out; // held or not, it has no size
    const bool is_count = c.kind == "number" || c.kind == "no_stiffener" || c.kind == "land";
    const std::string unit = is_count ? "" : c.kind == "loads" ? "_share" : "_mm";
    out["from" + unit] = number(c.from);
    out["to" + unit] = number(c.to);
    if (c.kind == "number") out["section"] = c.section;
    return out;
}

Json remedy(const Remedy& c) {
    Json out = changed(c);
    out["also"] = c.also.empty() ? Json(nullptr) : changed(c.also.front());
    out["helps"] = c.helps;
    out["utilisation"] = number(c.utilisation);
    out["mass_kg"] = number(c.mass_kg);
    out["governing_check"] = c.governing_check;
    return out;
}

Json hand_row(const HandEstimate& h) {
    return {{"situation", h.situation},
            {"sag_mm", number(h.sag_mm)},
            {"why_not", h.why_not.empty() ? Json(nullptr) : Json(h.why_not)},
            {"computed_over_hand", number(h.computed_over_hand)},
            {"agrees", h.sag_mm ? Json(h.agrees) : Json(nullptr)}};
}

Json by_hand(const std::vector<HandEstimate>& rows) {
    return {{"computed_over_hand_at_least", least_over_hand},
            {"computed_over_hand_at_most", most_over_hand},
            {"rows", list(rows, hand_row)}};
}

Json solid_equal(const SolidEqual& s) {
    return {{"situation", s.situation},
            {"sag_mm", number(s.sag_mm)},
            {"thickness_mm", number(s.thickness_mm)},
            {"mass_kg", number(s.mass_kg)},
            {"why_not", s.why_not.empty() ? Json(nullptr) : Json(s.why_not)}};
}

Json kept_way(const KeptResult::Way& w) {
    return {{"way", w.way},
            {"needed_mm", number(w.needed_mm)},
            {"there_mm", number(w.there_mm)},
            {"basis", w.basis}};
}

Json kept(const KeptResult& k) {
    return {{"name", k.name},
            {"hangs", k.hangs},
            {"at_mm", point(k.at)},
            {"size_mm", triple({k.size_x, k.size_y, k.height})},
            {"weight_N", number(k.weight_N)},
            {"sinks_mm", number(k.sinks_mm)},
            {"room", list(k.ways, kept_way)}};
}

Json cover(const CoverResult& c) {
    return {{"material", c.material},
            {"thickness_mm", number(c.thickness_mm)},
            {"mass_kg", number(c.mass_kg)},
            {"span_mm", number(c.span_mm)},
            {"trim", c.trim.empty() ? Json(nullptr) : Json(c.trim)},
            {"trim_below_mm", number(c.trim_below_mm)},
            {"sag_mm", number(c.sag_mm)},
            {"sag_limit_mm", number(c.sag_limit_mm)},
            {"sag_basis", c.sag_basis},
            {"moves_mm", number(c.moves_mm)},
            {"play_mm", number(c.play_mm)},
            {"play_basis", c.play_basis},
            {"gap_mm", number(c.gap_mm)},
            {"not_judged", c.not_judged}};
}

Json in_recess(const InRecess& r) {
    return {{"recess", r.recess},
            {"holds", list(r.holds, kept)},
            {"cover", r.cover ? cover(*r.cover) : Json(nullptr)}};
}

Json mesh(const MeshReport& m) {
    return {{"elements", m.elements},
            {"dofs", m.dofs},
            {"size_mm", number(m.size_mm)},
            {"order", m.order},
            {"sag_error_percent", number(m.sag_error_percent)},
            {"stress_error_percent", number(m.stress_error_percent)},
            {"reached", m.reached}};
}

Json study_row(const StudyRow& row) {
    return {{"verdict", row.passes ? "passes" : "fails"},
            {"governing",
             {{"check", row.governing_check},
              {"situation", row.governing_situation},
              {"utilisation", number(row.utilisation)}}},
            {"mass_kg", number(row.mass_kg)},
            {"sag_mm", number(row.sag_mm)},
            {"sag_years_mm", number(row.sag_years_mm)},
            {"dish_mm", number(row.dish_mm)}};
}

Json change(const ChangeRow& row) {
    const char* unit = row.step == 0 ? "none" : is_share(row.kind) ? "share" : "mm";
    Json out = {{"change", key_of(row.kind)},
                {"step", number(row.step)},
                {"step_unit", unit},
                {"part", row.part.empty() ? Json(nullptr) : Json(row.part)},
                {"at_mm", row.at ? point(*row.at) : Json(nullptr)}};
    out["result"] = row.row ? study_row(*row.row) : Json(nullptr);
    out["problem"] = row.problem.empty() ? Json(nullptr) : Json(row.problem);
    out["limit_at"] = number(limit_at(row));
    out["in_full"] = row.in_full;
    return out;
}

Json proof_test(const ProofTest& test, const std::vector<std::vector<Band>>& bands) {
    Json out = {{"load", test.load_name},
                {"force_N", number(test.force_N)},
                {"gauges", list(test.gauges, [](const ProofGauge& g) {
                     return Json{{"where", g.where},
                                 {"at_mm", point(g.at)},
                                 {"slope_mm_per_100_N", number(g.slope_mm_per_100_N)}};
                 })}};
    out["steps"] = Json::array();
    for (std::size_t k = 0; k < test.steps.size(); ++k) {
        const ProofStep& s = test.steps[k];
        out["steps"].push_back(
            {{"share", number(s.share)},
             {"force_N", number(s.force_N)},
             {"readings_mm", list(s.readings_mm, [](double r) { return number(r); })},
             {"bands_mm", bands.empty() ? Json(nullptr) : list(bands[k], json_band<Json>)}});
    }
    return out;
}

Json trials_of(const Trials& trials) {
    Json out = {{"as_drawn", study_row(trials.base)}, {"changes", list(trials.changes, change)}};
    out["sag_band"] = trials.band ? Json{{"stiffness_share", number(trials.band->share)},
                                         {"low_mm", number(trials.band->low_mm)},
                                         {"drawn_mm", number(trials.band->drawn_mm)},
                                         {"high_mm", number(trials.band->high_mm)}}
                                  : Json(nullptr);
    out["proof_test"] = trials.proof ? proof_test(*trials.proof, trials.proof_bands) : Json(nullptr);
    return out;
}

Json datum(const Datum& d) {
    return {{"what", d.what},
            {"value", number(d.value)},
            {"unit", d.unit},
            {"variation_percent", number(d.variation_percent)},
            {"source", d.source}};
}

/// Fills `out`, which may hold `file` already.
void fill(Json& out, const Result& result) {
    out["hollowtop"] = 1;
    out["version"] = result.version;
    out["title"] = result.title;
    out["verdict"] = result.passes ? "passes" : "fails";
    out["to_spare"] = result.to_spare;
    out["governing"] = {
        {"check", result.governing_check},
        {"situation", result.governing_situation},
        {"utilisation", number(result.governing_utilisation)},
        {"band", Json::array({number(result.governing_band[0]), number(result.governing_band[1])})}};
    out["pays"] = result.pays;
    out["mass"] = mass(result.mass);
    out["situations"] = list(result.situations, situation);
    out["checks"] = list(result.checks, check);
    out["stiffeners"] = list(result.stiffeners, stiffener);
    out["screws"] = list(result.screws, screw);
    out["stiffening"] = result.stiffening ? stiffening(*result.stiffening) : Json(nullptr);
    out["frequency_Hz"] = list(result.frequency_Hz, [](double f) { return number(f); });
    out["pushes"] = list(result.pushes, skin_push);
    out["travels"] = list(result.travels, travel);
    out["sag_in_time"] = {{"basis", result.sag_in_time_basis},
                          {"rows", list(result.sag_in_time, sag_in_time)}};
    out["solid_too"] = result.solid_too ? Json{{"governing_check", result.solid_too->governing_check},
                                               {"utilisation", number(result.solid_too->utilisation)}}
                                        : Json(nullptr);
    out["remedies"] = result.remedies ? list(*result.remedies, remedy) : Json(nullptr);
    out["by_hand"] = by_hand(result.by_hand);
    out["solid_equal"] = result.solid_equal ? solid_equal(*result.solid_equal) : Json(nullptr);
    out["in_recesses"] = list(result.in_recesses, in_recess);
    out["mesh"] = mesh(result.mesh);
    out["assumptions"] = result.assumptions;
    out["warnings"] = result.warnings;
    out["cautions"] = result.cautions;
}

std::string text_of(const Json& json) {
    constexpr int indent = 2;
    constexpr bool ascii_only = false;
    // Texts come from files that were checked to be UTF-8, so nothing has to be replaced; if it had to,
    // better so than thrown.
    return json.dump(indent, ' ', ascii_only, Json::error_handler_t::replace) + '\n';
}

} // namespace

std::string to_json(const Result& result, const Uncertainty* band) {
    Json out = Json::object();
    fill(out, result);
    if (band) out["uncertainty"] = json_uncertainty<Json>(*band);
    return text_of(out);
}

std::optional<double> limit_at(const ChangeRow& row) {
    if (!row.steps_to_limit || !(row.step > 0)) return std::nullopt;
    const double at = *row.steps_to_limit * row.step;
    return row.kind == Changed::softer && at >= 1 ? std::nullopt : std::optional(at);
}

const char* key_of(Changed kind) {
    switch (kind) {
    case Changed::thinner:
        return "thinner";
    case Changed::deeper:
        return "deeper";
    case Changed::softer:
        return "softer";
    case Changed::stiffer:
        return "stiffer";
    case Changed::heavier:
        return "heavier";
    case Changed::supports_out:
        return "supports_out";
    case Changed::supports_in:
        return "supports_in";
    case Changed::screw_loose:
        return "screw_loose";
    case Changed::stiffeners_loose:
        return "stiffeners_loose";
    }
    return "";
}

std::string to_json(const Result& result, const std::optional<Trials>& trials, std::span<const Datum> data,
                    const Uncertainty* band) {
    Json out = Json::object();
    fill(out, result);
    if (band) out["uncertainty"] = json_uncertainty<Json>(*band);
    out["trials"] = trials ? trials_of(*trials) : Json(nullptr);
    out["data"] = list(data, datum);
    return text_of(out);
}

std::string to_json(std::span<const NamedResult> results) {
    Json out = Json::array();
    for (const NamedResult& named : results) {
        Json one = {{"file", named.file}};
        fill(one, named.result);
        out.push_back(std::move(one));
    }
    return text_of(out);
}

} // namespace hollowtop::cli
