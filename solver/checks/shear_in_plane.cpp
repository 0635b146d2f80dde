// SPDX-License-Identifier: MIT
// Shear in the plane of the top at either face: the twist of a corner that hangs free.
#include "solver/checks/judges.hpp"

#include <cmath>

namespace hollowtop {

std::optional<CheckResult> judge_shear_in_plane(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    const auto in_plane = [](const std::array<double, 3>& face) { return std::abs(face[2]); };
    const Worst worst = worst_of(input.situation.stress,
                                 [&](const StressSample& sample) { return greater_face(sample, in_plane); });
    CheckResult row;
    row.demand = worst.value;
    row.capacity = input.allowables->shear.value;
    row.unit = "MPa";
    row.at = worst.sample.at;
    row.basis = face_word(worst.sample, in_plane) + "; " + input.allowables->shear.basis;
    row.remedy = "leave the skin thicker near the corners of the recess, or move the supports towards the "
                 "top's corners";
    return row;
}

} // namespace hollowtop
