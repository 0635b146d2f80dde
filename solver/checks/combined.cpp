// SPDX-License-Identifier: MIT
// The three face stresses together.
// Norris, Strength of orthotropic materials subjected to combined stresses, FPL Report 1816 (1950, reaffirmed 1962):
//     (s1/X)^2 - s1 s2/(X Y) + (s2/Y)^2 + (t/S)^2 = 1 at failure; X, Y of the sign of their stress; from memory.
#include "solver/checks/judges.hpp"

#include <cmath>

namespace hollowtop {

double norris_utilisation(const std::array<double, 3>& stress,
                          const materials::AllowableStresses& allowables) {
    const double along = stress[0] / allowables.bending_along.value;
    const double across = std::copysign(utilisation_across(stress[1], allowables), stress[1]);
    const double shear = stress[2] / allowables.shear.value;
    return std::sqrt(along * along - along * across + across * across + shear * shear);
}

std::optional<CheckResult> judge_combined(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    const auto together = [&](const std::array<double, 3>& face) {
        return norris_utilisation(face, *input.allowables);
    };
    const Worst worst = worst_of(input.situation.stress,
                                 [&](const StressSample& sample) { return greater_face(sample, together); });
    CheckResult row;
    row.demand = worst.value;
    row.capacity = 1;
    row.unit = "1";
    row.at = worst.sample.at;
    row.basis = face_word(worst.sample, together) +
                "; square root of (along/X)^2 - along across/(X Y) + (across/Y)^2 + (shear/S)^2 with the "
                "allowable stresses of the "
                "checks above (Norris, FPL Report 1816, 1950, reaffirmed 1962; from memory)";
    row.remedy = "leave the skin thicker there, or make the recess smaller";
    return row;
}

} // namespace hollowtop
