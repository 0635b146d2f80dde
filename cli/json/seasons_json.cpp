// SPDX-License-Identifier: MIT
#include "cli/json/seasons_json.hpp"

#include "cli/json/json_values.hpp"
#include "cli/json/message_json.hpp"
#include "cli/json/year_json.hpp"
#include "cli/words/words.hpp"
#include "solver/piece/version.hpp"

#include <nlohmann/json.hpp>

#include <string>

namespace hollowtop::cli {
namespace {

using Json = nlohmann::ordered_json;

Json air(const Air& a, bool usual, double moisture_percent) {
    return {{"temperature_C", finite(a.temperature_C)},
            {"humidity_percent", finite(a.humidity_percent)},
            {"stated", !usual},
            {"moisture_percent", finite(moisture_percent)}};
}

Json coefficient(const materials::Sourced& c) {
    return {{"change_per_percent", finite(c.value)}, {"source", c.source}, {"status", c.status}};
}

Json part(const PartMovement& p) {
    return {{"name", p.name},
            {"size_mm", finite(p.size)},
            {"shrinks_mm", finite(p.swing.shrinks)},
            {"grows_mm", finite(p.swing.grows)},
            {"gap_each_side_mm", finite(p.swing.play())}};
}

Json screw_travel(const ScrewTravel& s) {
    return {{"at_mm", finite(s.at)},
            {"place_mm", json_point<Json>(s.place)},
            {"fixed", s.is_fixed},
            {"shrinks_mm", finite(s.along.shrinks)},
            {"grows_mm", finite(s.along.grows)},
            {"sideways_mm", finite(s.sideways.greater())},
            {"slot_length_mm", finite(s.slot_length)},
            {"force_N", finite(s.force)}};
}

Json stress(const StressInSeason& s) {
    return {{"face_MPa", finite(s.face)}, {"mean_MPa", finite(s.mean)}, {"held_fast_MPa", finite(s.held)}};
}

Json restraint(const Restraint& r) {
    return {
        {"strip_width_mm", finite(r.strip_width)},
        {"strip_thickness_mm", finite(r.strip_thickness)},
        {"screw_stiffness_N_per_mm", r.screw_stiffness > 0 ? Json(finite(r.screw_stiffness)) : Json(nullptr)},
        {"tension", stress(r.tension)},
        {"compression", stress(r.compression)},
        {"screw_force_N", finite(r.screw_force)},
        {"screw_yields_N", r.screw_limit ? Json(finite(r.screw_limit->value)) : Json(nullptr)}};
}

Json stiffener_movement(const StiffenerMovement& s) {
    Json told = {{"name", s.name},
                 {"holes", cli::to_word(s.holes)},
                 {"to_the_grain_deg", finite(s.to_the_grain_deg)},
                 {"screws", json_list<Json>(s.screws, screw_travel)},
                 {"restraint", s.restraint ? restraint(*s.restraint) : Json(nullptr)}};
    if (s.slides)
        told["slides"] = {{"shrinks_mm", finite(s.slides->shrinks)}, {"grows_mm", finite(s.slides->grows)}};
    return told;
}

Json ends(const EndsMovement& e) {
    Json pegs = Json::array();
    for (std::size_t i = 0; i < e.pegs.size(); ++i)
        pegs.push_back({{"from_middle_mm", finite(e.pegs[i])}, {"slot_length_mm", finite(e.slots[i])}});
    Json out{
        {"stands_back_mm", finite(e.step.shrinks)}, {"stands_out_mm", finite(e.step.grows)}, {"pegs", pegs}};
    if (e.tight)
        out["in_round_holes"] = {{"force_N", finite(e.tight->force_N)},
                                 {"tension_MPa", finite(e.tight->tension_MPa)},
                                 {"tension_strength_MPa", e.tight->strength_MPa
                                                              ? Json(finite(*e.tight->strength_MPa))
                                                              : Json(nullptr)}};
    return out;
}

Json support(const SupportTravel& s) {
    return {{"name", s.name},
            {"holds", s.holds},
            {"from_middle_mm", finite(s.from_middle)},
            {"inwards_mm", finite(s.swing.shrinks)},
            {"outwards_mm", finite(s.swing.grows)},
            {"play_each_way_mm", finite(s.swing.play())}};
}

Json rise(const Rise& r) {
    return {{"rise_mm", finite(r.value)},
            {"from_mm", json_point<Json>(r.from)},
            {"to_mm", json_point<Json>(r.to)}};
}

Json cup(const Cup& c) {
    return {{"across", rise(c.across)},
            {"along", rise(c.along)},
            {"out_of_flat_mm", finite(c.out_of_flat)},
            {"error_percent", finite(c.error_percent)},
            {"residual", finite(c.residual)}};
}

Json season_check(const SeasonCheck& c) {
    return {{"check", c.what},
            {"demand", finite(c.demand)},
            {"capacity", finite(c.capacity)},
            {"unit", c.unit},
            {"utilisation", finite(c.utilisation())},
            {"basis", c.basis},
            {"remedy", c.remedy}};
}

} // namespace

std::string to_json(const Piece& piece, const Seasons& s, std::span<const Message> cautions,
                    const YearOfTop* year) {
    Json out = Json::object();
    out["hollowtop"] = 1;
    out["version"] = program_version;
    out["title"] = piece.title;
    out["verdict"] = s.passes ? "passes" : "fails";
    out["climate"] = {{"dry", air(s.moisture.dry_air, s.moisture.dry_is_usual, s.moisture.dry_percent)},
                      {"damp", air(s.moisture.wet_air, s.moisture.wet_is_usual, s.moisture.wet_percent)},
                      {"made_at_percent", finite(s.moisture.made_percent)}};
    out["coefficient"] = {{"across", coefficient(s.across)}, {"through", coefficient(s.through)}};
    out["width"] = part(s.width);
    out["thickness"] = part(s.thickness);
    out["length_changes_at_most_mm"] = finite(s.length_at_most);
    out["recesses"] = json_list<Json>(s.recesses, part);
    out["stiffeners"] = json_list<Json>(s.stiffeners, stiffener_movement);
    out["supports"] = json_list<Json>(s.supports, support);
    if (s.ends) out["ends"] = ends(*s.ends);
    out["cupping"] = {{"face_difference_percent", finite(s.face_difference_percent)},
                      {"uneven", cup(s.gradient)},
                      {"even_percent", 1},
                      {"even", cup(s.even)}};
    if (year != nullptr) out["year"] = Json::parse(year_strip_json(*year));
    out["checks"] = json_list<Json>(s.checks, season_check);
    out["assumptions"] = s.assumptions;
    out["warnings"] = s.warnings;
    out["cautions"] = Json(std::vector<Message>(cautions.begin(), cautions.end()));
    constexpr int indent = 2;
    return out.dump(indent, ' ', false, Json::error_handler_t::replace) + '\n';
}

} // namespace hollowtop::cli
