// SPDX-License-Identifier: MIT
// Stiffeners: stress of bending and axial force, and their pressure on the wood.
#include "materials/digits.hpp"
#include "materials/metal.hpp"
#include "materials/section.hpp"
#include "solver/capacity/bar_wood.hpp"
#include "solver/checks/judges.hpp"
#include "solver/interface/screw_places.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace hollowtop {
namespace {

/// Share of yield that a free leg may take before it buckles locally: 1 up to the class 3 limit of an
/// outstand in compression, c/t <= 14 sqrt(235/f_y) (EN 1993-1-1 table 5.2, from memory), then falling with
/// the square of the slenderness.
double local_share(const materials::Section& section, double f_y) {
    double slenderness = 0;
    switch (section.kind) {
    case materials::SectionKind::angle:
    case materials::SectionKind::tee:
        slenderness = (section.height - section.thickness) / section.thickness;
        break;
    case materials::SectionKind::channel:
        slenderness = (section.width - section.thickness) / section.grip;
        break;
    case materials::SectionKind::bar:
        slenderness = section.height / section.width;
        break;
    default:
        return 1;
    }
    const double limit = 14 * std::sqrt(235 / f_y);
    return slenderness <= limit ? 1 : limit * limit / (slenderness * slenderness);
}

/// Greatest length over which nothing holds the bar upright: between two screws, or past the last one. Glue
/// and a groove leave none.
double longest_gap(const Stiffener& stiffener) {
    if (!is_screwed(stiffener.screws.holes)) return 0;
    std::vector<double> places = screw_places(stiffener);
    places.push_back(0);
    places.push_back(std::hypot(stiffener.to.x - stiffener.from.x, stiffener.to.y - stiffener.from.y));
    std::sort(places.begin(), places.end());
    double longest = 0;
    for (std::size_t i = 1; i < places.size(); ++i) longest = std::max(longest, places[i] - places[i - 1]);
    return longest;
}

/// Share of yield at which a tall rectangular bar tips over sideways between its screws, as if its free edge
/// were pressed all along:
/// 1.9 E/(L d/t^2)/f_y (AISC 360-16 eq. F11-4, C_b = 1, from memory).
double lateral_share(const materials::Section& section, double gap, double E, double f_y) {
    if (section.kind != materials::SectionKind::bar || !(gap > 0) || section.height <= section.width)
        return 1;
    return std::min(1.0, 1.9 * E / (gap * section.height / (section.width * section.width)) / f_y);
}

struct Capacity {
    double stress = 0;
    Message basis;
};

std::optional<Capacity> capacity_of(const CheckInput& input, const Stiffener& stiffener) {
    if (stiffener.elastic) return std::nullopt;
    if (!stiffener.metal.empty()) {
        const materials::Metal& metal = materials::find_metal(stiffener.metal);
        const bool by_design = input.piece.allowables.basis == AllowablesBasis::strength_class;
        const auto allowable =
            by_design ? materials::design_strength(metal) : materials::allowable_stress(metal);
        if (!allowable) return std::nullopt;
        const materials::Section section = materials::parse_section(stiffener.section);
        const double f_y = metal.f_y.value_or(235);
        const double leg = local_share(section, f_y),
                     lateral = lateral_share(section, longest_gap(stiffener), metal.E, f_y);
        const double share = std::min(leg, lateral);
        Message basis = allowable->source; // says each number with its own source
        if (share < 1 && leg <= lateral)
            basis += said(", x {} for a slender leg (EN 1993-1-1 table 5.2, from memory)", number(share));
        if (share < 1 && lateral < leg)
            basis += said(
                ", x {} for a bar that may tip over between its screws (AISC 360-16 eq. F11-4, from memory)",
                number(share));
        return Capacity{allowable->value * share, basis};
    }
    const auto wood = strengths_of_bar(input.piece, input.situation, input.allowables, stiffener);
    if (!wood) return std::nullopt;
    return Capacity{wood->bending_along.value, wood->bending_along.basis};
}

} // namespace

std::optional<CheckResult> judge_stiffener_stress(const CheckInput& input) {
    std::optional<CheckResult> worst;
    for (std::size_t i = 0; i < input.situation.stiffeners.size(); ++i) {
        const Stiffener& stiffener = input.piece.stiffeners[i];
        const std::optional<Capacity> capacity = capacity_of(input, stiffener);
        if (!capacity) continue;
        const StiffenerForce& force = input.situation.stiffeners[i];
        const double demand = std::abs(force.stress_MPa);
        if (worst && !is_more(demand / capacity->stress, worst->demand / worst->capacity)) continue;
        CheckResult row;
        row.demand = demand;
        row.capacity = capacity->stress;
        row.unit = "MPa";
        row.at = force.at;
        row.basis = said("in \"{}\"; {}", stiffener.name, capacity->basis);
        row.remedy = "take a deeper or thicker section, or one more stiffener";
        worst = row;
    }
    return worst;
}

std::optional<CheckResult> judge_stiffener_shear(const CheckInput& input) {
    std::optional<CheckResult> worst;
    for (std::size_t i = 0; i < input.situation.stiffeners.size(); ++i) {
        const Stiffener& stiffener = input.piece.stiffeners[i];
        const auto wood = strengths_of_bar(input.piece, input.situation, input.allowables, stiffener);
        const StiffenerForce& force = input.situation.stiffeners[i];
        if (!wood ||
            (worst && !is_more(force.shear_MPa / wood->shear.value, worst->demand / worst->capacity)))
            continue;
        CheckResult row;
        row.demand = force.shear_MPa;
        row.capacity = wood->shear.value;
        row.unit = "MPa";
        row.at = force.shear_at;
        row.basis = said("in \"{}\"; {}", stiffener.name, wood->shear.basis);
        row.remedy = "take a wider or deeper bar";
        worst = row;
    }
    return worst;
}

std::optional<CheckResult> judge_stiffener_bearing(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    const StiffenerForce* most = nullptr;
    for (const StiffenerForce& force : input.situation.stiffeners)
        if (force.pressure_MPa > 0 && (!most || is_more(force.pressure_MPa, most->pressure_MPa)))
            most = &force;
    if (!most) return std::nullopt;
    CheckResult row;
    row.demand = most->pressure_MPa;
    row.capacity = input.allowables->bearing.value;
    row.unit = "MPa";
    row.at = most->pressure_at;
    row.basis = input.allowables->bearing.basis;
    row.remedy = "take a section with a wider face on the wood, or run it further";
    return row;
}

} // namespace hollowtop
