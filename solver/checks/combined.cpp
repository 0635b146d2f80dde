// SPDX-License-Identifier: MIT
// The three face stresses together.
// Norris, Strength of orthotropic materials subjected to combined stresses, FPL Report 1816 (1950, reaffirmed
// 1962: so it stands among the references of FPL-GTR-190, chapter 9). The formula is from memory:
//     (s1/X)^2 - s1 s2/(X Y) + (s2/Y)^2 + (t/S)^2 = 1 at failure; X, Y of the sign of their stress.
#include "materials/digits.hpp"
#include "solver/checks/judges.hpp"

#include <cmath>

namespace hollowtop {

double norris_utilisation(const std::array<double, 3>& stress, const materials::AllowableStresses& allowables,
                          double tension_across) {
    const double along = stress[0] / allowables.bending_along.value;
    const double across = stress[1] / (stress[1] >= 0 ? tension_across : allowables.compression_across.value);
    const double shear = stress[2] / allowables.shear.value;
    return std::sqrt(along * along - along * across + across * across + shear * shear);
}

std::optional<CheckResult> judge_combined(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    const double tension_across =
        tension_strength_at_a_place(input.situation.tension_across, *input.allowables);
    const auto together = [&](const std::array<double, 3>& face) {
        return norris_utilisation(face, *input.allowables, tension_across);
    };
    const Worst worst = worst_of(input.situation.stress,
                                 [&](const StressSample& sample) { return greater_face(sample, together); });
    CheckResult row;
    row.demand = worst.value;
    row.capacity = 1;
    row.unit = std::string("1");
    row.at = worst.sample.at;
    row.basis =
        said("{}; square root of (along/X)^2 - along across/(X Y) + (across/Y)^2 + (shear/S)^2 with the "
             "allowable stresses of the checks above (Norris, FPL Report 1816, 1950, reaffirmed 1962; the "
             "formula from memory); in tension across the grain a single place bears {}, as it does where "
             "the sum over "
             "the top takes most",
             face_word(worst.sample, together), amount(tension_across, Unit::MPa));
    row.remedy = "leave the skin thicker there, or make the recess smaller";
    return row;
}

} // namespace hollowtop
