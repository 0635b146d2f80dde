// SPDX-License-Identifier: MIT
// Does a top that only lies on its supports stay on them? The passing load against the one that would tip it.
#include "materials/digits.hpp"
#include "solver/checks/judges.hpp"

namespace hollowtop {

std::optional<CheckResult> judge_tipping(const CheckInput& input) {
    if (!input.situation.tipping_factor) return std::nullopt;
    CheckResult row;
    row.demand = 1;
    row.capacity = *input.situation.tipping_factor;
    row.unit = "1";
    row.basis = "moments of the loads about the lines round the supports (statics; no reserve is in it)";
    if (const auto& solid = input.situation.tipping_factor_solid; solid && *solid > row.capacity * 1.005)
        row.basis += "; a solid top, being heavier, would bear " + materials::digits(*solid) + " times the load";
    row.remedy = "move the supports outwards, or screw the top to them";
    return row;
}

CheckResult tipped_row(const TippedPlace& place) {
    CheckResult row;
    row.situation = place.situation;
    row.demand = 1;
    row.capacity = place.factor;
    row.unit = "1";
    row.at = place.at;
    row.basis = "moments of the loads about the lines round the supports; the load lies where the top tips first";
    row.remedy = "move the supports outwards, or screw the top to them";
    return row;
}

} // namespace hollowtop
