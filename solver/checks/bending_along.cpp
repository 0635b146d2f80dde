// SPDX-License-Identifier: MIT
// Face stress along the grain, of either sign, against the bending strength.
#include "solver/checks/judges.hpp"

#include <cmath>

namespace hollowtop {

std::optional<CheckResult> judge_bending_along(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    const auto along = [](const std::array<double, 3>& face) { return std::abs(face[0]); };
    const Worst worst = worst_of(input.situation.stress,
                                 [&](const StressSample& sample) { return greater_face(sample, along); });
    CheckResult row;
    row.demand = worst.value;
    row.capacity = input.allowables->bending_along.value;
    row.unit = "MPa";
    row.at = worst.sample.at;
    row.basis = face_word(worst.sample, along) + "; " + input.allowables->bending_along.basis;
    row.remedy = "leave the skin thicker there, add a stiffener along the grain, or move the supports closer";
    return row;
}

} // namespace hollowtop
