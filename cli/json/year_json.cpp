// SPDX-License-Identifier: MIT
#include "cli/json/year_json.hpp"

#include "cli/json/json_values.hpp"
#include "cli/json/message_json.hpp"
#include "solver/piece/version.hpp"

#include <nlohmann/json.hpp>

namespace hollowtop::cli {
namespace {

using Json = nlohmann::ordered_json;

Json number(double value) { return finite(value); }

Json worst(const WorstDay& w, const char* value) {
    // days are counted from one, as the text does
    return {{value, number(w.value)}, {"day", w.day + 1}, {"from_day", w.from + 1}, {"to_day", w.to + 1}};
}

Json of_a_year(const WorstOfYear& w) {
    return {{"lead", worst(w.lead, "points")},
            {"rise_across", worst(w.rise_across, "mm")},
            {"out_of_flat", worst(w.out_of_flat, "mm")}};
}

Json otherwise(const Otherwise& way) { return {{"what", way.what}, {"first_year", of_a_year(way.first)}}; }

Json zone(const Zone& z) { return {{"thickness_mm", number(z.thickness)}, {"full_thickness", z.is_full}}; }

Json month(const YearMonth& m) {
    return {{"month", month_words[static_cast<std::size_t>(m.month - 1)]},
            {"air_percent", number(m.air_percent)},
            {"rim_percent", number(m.full_percent)},
            {"skin_percent", number(m.skin_percent)},
            {"width_change_mm", number(m.width_change)},
            {"rise_across_mm", number(m.shape.across.value)},
            {"rise_along_mm", number(m.shape.along.value)},
            {"out_of_flat_mm", number(m.shape.out_of_flat)},
            {"tension_MPa", number(m.tension)}};
}

Json tension(const SeasonTension& t) {
    Json json = worst(t.greatest, "greatest_MPa");
    json["at_mm"] = json_point<Json>(t.at);
    json["in_a_skin"] = t.in_a_skin;
    json["relaxed_by"] = number(t.divisor);
    json["without_give_MPa"] = number(t.without_give);
    return json;
}

Json held(const HeldShape& h) {
    return {{"rise_across_mm", number(h.shape.across.value)},
            {"rise_along_mm", number(h.shape.along.value)},
            {"out_of_flat_mm", number(h.shape.out_of_flat)},
            {"greatest_pull_N", number(h.greatest_pull)},
            {"pulled", h.pulled},
            {"greatest_shear_N", number(h.greatest_shear)},
            {"sheared", h.sheared},
            {"shear_borne_N", h.shear_borne > 0 ? number(h.shear_borne) : Json(nullptr)},
            {"pull_borne_N", h.pull_borne > 0 ? number(h.pull_borne) : Json(nullptr)},
            {"yields", h.yields},
            {"drawn_out", h.is_drawn_out},
            {"greatest_on_a_dovetail_N_per_mm", number(h.greatest_on_tail)},
            {"lets_go", h.lets_go}};
}

Json standing(const Standing& s) {
    return {{"worst_day", s.worst_day + 1},
            {"worst", held(s.worst)},
            {"worst_without_bars", s.worst_without_bars ? held(*s.worst_without_bars) : Json(nullptr)},
            {"moved_day", s.moved_day + 1},
            {"moved", held(s.moved)},
            {"moved_without_bars", s.moved_without_bars ? held(*s.moved_without_bars) : Json(nullptr)}};
}

Json sanded_row(const Sanded& s) {
    return {{"off_mm", number(s.off)},
            {"verdict", !s.passes   ? "not possible"
                        : *s.passes ? "passes"
                                    : "fails"},
            {"check", s.check},
            {"utilisation", number(s.utilisation)},
            {"problem", s.problem}};
}

Json panel(const PanelShape& p) { return {{"crown_mm", number(p.crown)}, {"wave_mm", number(p.wave)}}; }

Json rings(const RingsTold& r) {
    Json json{{"known", r.are_known},
              {"near_pith_crown_mm", number(r.near_pith_crown)},
              {"near_pith_alternating_wave_mm", number(r.near_pith_wave)}};
    if (!r.are_known) return json;
    json["dry"] = panel(r.dry);
    json["damp"] = panel(r.damp);
    json["wave_pith_up_mm"] = number(r.wave_pith_up);
    json["wave_bark_up_mm"] = number(r.wave_bark_up);
    json["wave_alternating_mm"] = number(r.wave_alternating);
    json["stands_dry"] = r.stands_dry ? held(*r.stands_dry) : Json(nullptr);
    json["stands_damp"] = r.stands_damp ? held(*r.stands_damp) : Json(nullptr);
    Json turned = Json::array();
    for (const int i : r.turned.turned) turned.push_back(i + 1);
    json["flattest"] = {{"turned_boards", turned}, {"wave_mm", number(r.turned.wave)}};
    json["greatest_cup_of_a_board_mm"] = number(r.greatest_cup);
    json["of_board"] = r.worst_board + 1;
    Json narrow = Json::array();
    for (const std::size_t i : r.narrow) narrow.push_back(i + 1);
    json["narrow_boards"] = std::move(narrow);
    json["greatest_wave_of_a_board_mm"] = number(r.greatest_scallop);
    return json;
}

} // namespace

std::string year_strip_json(const YearOfTop& y) {
    return Json{{"first_year", of_a_year(y.first)},
                {"second_year", of_a_year(y.second)},
                {"months", json_list<Json>(y.months, month)}}
        .dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string year_json(const Piece& piece, const YearOfTop& y, std::span<const Sanded> sanding,
                      std::span<const Message> cautions) {
    Json out = Json::object();
    out["hollowtop"] = 1;
    out["version"] = program_version;
    out["title"] = piece.title;
    out["moves_in"] = {{"month", month_words[static_cast<std::size_t>(y.month - 1)]},
                       {"stated", !y.month_is_usual},
                       {"at_percent", number(y.start_percent)}};
    out["finish"] = {{"top", y.finish.above},
                     {"underside", y.finish.below},
                     {"recess", y.finish.recess},
                     {"stated", !y.finish_is_usual}};
    out["zones"] = json_list<Json>(y.zones, zone);
    out["coefficient"] = {{"change_per_percent", number(y.across.value)},
                          {"source", y.across.source},
                          {"status", y.across.status}};
    out["first_year"] = of_a_year(y.first);
    out["rim_edges"] = y.edges ? Json{{"lead_at_sides_points", number(y.edges->sides)},
                                      {"lead_at_ends_points", number(y.edges->ends)},
                                      {"out_of_flat_mm", number(y.edges->out_of_flat)}}
                               : Json(nullptr);
    out["second_year"] = of_a_year(y.second);
    out["standing"] = y.standing ? standing(*y.standing) : Json(nullptr);
    out["tension"] = tension(y.tension);
    out["months"] = json_list<Json>(y.months, month);
    out["doubled"] = json_list<Json>(y.doubled, otherwise);
    out["helps"] = json_list<Json>(y.helps, otherwise);
    if (!sanding.empty()) out["sanding"] = json_list<Json>(sanding, sanded_row);
    out["boards"] = y.rings ? rings(*y.rings) : Json(nullptr);
    out["error_percent"] = number(y.error_percent);
    out["assumptions"] = y.assumptions;
    out["warnings"] = y.warnings;
    out["cautions"] = Json(std::vector<Message>(cautions.begin(), cautions.end()));
    constexpr int indent = 2;
    return out.dump(indent, ' ', false, Json::error_handler_t::replace) + '\n';
}

} // namespace hollowtop::cli
