// SPDX-License-Identifier: MIT
#include "cli/json/seasons_json.hpp"

#include "cli/json/json_values.hpp"
#include "cli/json/message_json.hpp"
#include "cli/words/words.hpp"
#include "solver/piece/version.hpp"

#include <nlohmann/json.hpp>

#include <string>

namespace hollowtop::cli {
namespace {

using Json = nlohmann::ordered_json;

Json number(double value) { return finite(value); }

Json point(Point at) { return json_point<Json>(at); }

template <class Values, class ToJson> Json list(const Values& values, ToJson to_json) {
    return json_list<Json>(values, to_json);
}

Json air(const Air& a, bool usual, double moisture_percent) {
    return {{"temperature_C", number(a.temperature_C)},
            {"humidity_percent", number(a.humidity_percent)},
            {"stated", !usual},
            {"moisture_percent", number(moisture_percent)}};
}

Json coefficient(const materials::Sourced& c) {
    return {{"change_per_percent", number(c.value)}, {"source", c.source}, {"status", c.status}};
}

Json part(const PartMovement& p) {
    return {{"name", p.name},
            {"size_mm", number(p.size)},
            {"shrinks_mm", number(p.swing.shrinks)},
            {"grows_mm", number(p.swing.grows)},
            {"gap_each_side_mm", number(p.swing.play())}};
}

Json screw(const ScrewTravel& s) {
    return {{"at_mm", number(s.at)},
            {"place_mm", point(s.place)},
            {"fixed", s.is_fixed},
            {"shrinks_mm", number(s.along.shrinks)},
            {"grows_mm", number(s.along.grows)},
            {"sideways_mm", number(s.sideways.greater())},
            {"slot_length_mm", number(s.slot_length)},
            {"force_N", number(s.force)}};
}

Json stress(const StressInSeason& s) {
    return {{"face_MPa", number(s.face)}, {"mean_MPa", number(s.mean)}, {"held_fast_MPa", number(s.held)}};
}

Json restraint(const Restraint& r) {
    return {{"strip_width_mm", number(r.strip_width)},
            {"strip_thickness_mm", number(r.strip_thickness)},
            {"screw_stiffness_N_per_mm", r.screw_stiffness > 0 ? number(r.screw_stiffness) : Json(nullptr)},
            {"tension", stress(r.tension)},
            {"compression", stress(r.compression)},
            {"screw_force_N", number(r.screw_force)},
            {"screw_yields_N", r.screw_limit ? number(r.screw_limit->value) : Json(nullptr)}};
}

Json stiffener(const StiffenerMovement& s) {
    return {{"name", s.name},
            {"holes", to_word(s.holes)},
            {"to_the_grain_deg", number(s.to_the_grain_deg)},
            {"screws", list(s.screws, screw)},
            {"restraint", s.restraint ? restraint(*s.restraint) : Json(nullptr)}};
}

Json support(const SupportTravel& s) {
    return {{"name", s.name},
            {"holds", s.holds},
            {"from_middle_mm", number(s.from_middle)},
            {"inwards_mm", number(s.swing.shrinks)},
            {"outwards_mm", number(s.swing.grows)},
            {"play_each_way_mm", number(s.swing.play())}};
}

Json rise(const Rise& r) {
    return {{"rise_mm", number(r.value)}, {"from_mm", point(r.from)}, {"to_mm", point(r.to)}};
}

Json cup(const Cup& c) {
    return {{"across", rise(c.across)},
            {"along", rise(c.along)},
            {"out_of_flat_mm", number(c.out_of_flat)},
            {"error_percent", number(c.error_percent)},
            {"residual", number(c.residual)}};
}

Json check(const SeasonCheck& c) {
    return {{"check", c.what},
            {"demand", number(c.demand)},
            {"capacity", number(c.capacity)},
            {"unit", c.unit},
            {"utilisation", number(c.utilisation())},
            {"basis", c.basis},
            {"remedy", c.remedy}};
}

} // namespace

std::string to_json(const Piece& piece, const Seasons& s, std::span<const Message> cautions) {
    Json out = Json::object();
    out["hollowtop"] = 1;
    out["version"] = program_version;
    out["title"] = piece.title;
    out["verdict"] = s.passes ? "passes" : "fails";
    out["climate"] = {{"dry", air(s.moisture.dry_air, s.moisture.dry_is_usual, s.moisture.dry_percent)},
                      {"damp", air(s.moisture.wet_air, s.moisture.wet_is_usual, s.moisture.wet_percent)},
                      {"made_at_percent", number(s.moisture.made_percent)}};
    out["coefficient"] = {{"across", coefficient(s.across)}, {"through", coefficient(s.through)}};
    out["width"] = part(s.width);
    out["thickness"] = part(s.thickness);
    out["length_changes_at_most_mm"] = number(s.length_at_most);
    out["recesses"] = list(s.recesses, part);
    out["stiffeners"] = list(s.stiffeners, stiffener);
    out["supports"] = list(s.supports, support);
    out["cupping"] = {{"face_difference_percent", number(s.face_difference_percent)},
                      {"uneven", cup(s.gradient)},
                      {"even_percent", 1},
                      {"even", cup(s.even)}};
    out["checks"] = list(s.checks, check);
    out["assumptions"] = s.assumptions;
    out["warnings"] = s.warnings;
    out["cautions"] = Json(std::vector<Message>(cautions.begin(), cautions.end()));
    constexpr int indent = 2;
    return out.dump(indent, ' ', false, Json::error_handler_t::replace) + '\n';
}

} // namespace hollowtop::cli
