// SPDX-License-Identifier: MIT
// Shear of the top's wood: through its thickness along the grain and across it, and in its plane.
#include "solver/checks/judges.hpp"

#include <cmath>

namespace hollowtop {

namespace {

/// Greatest shear through the thickness: `along` the grain 0, across it 1.
CheckResult through(const CheckInput& input, std::size_t along, const materials::Allowable& allowable,
                    const char* remedy) {
    const Worst worst = worst_of(input.situation.stress, [along](const StressSample& sample) {
        return std::abs(sample.shear[along]);
    });
    return row_of_stress(worst, allowable, allowable.basis, remedy);
}

} // namespace

/// In the plane that holds the grain (1-3).
std::optional<CheckResult> judge_shear_through(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    return through(input, 0, input.allowables->shear,
                   "leave full thickness at the supports, or spread the load there");
}

/// Across the grain (2-3): the fibres roll over one another.
std::optional<CheckResult> judge_rolling_shear(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    return through(input, 1, input.allowables->rolling_shear,
                   "leave the skin thicker at the long walls of the recess, or widen the rim");
}

/// Shear in the plane of the top at either face: the twist of a corner that hangs free.
std::optional<CheckResult> judge_shear_in_plane(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    const auto in_plane = [](const std::array<double, 3>& face) { return std::abs(face[2]); };
    const Worst worst = worst_of(input.situation.stress,
                                 [&](const StressSample& sample) { return greater_face(sample, in_plane); });
    return row_of_stress(
        worst, input.allowables->shear,
        said("{}; {}", face_word(worst.sample, in_plane), input.allowables->shear.basis),
        "leave the skin thicker near the corners of the recess, or move the supports towards "
        "the top's corners");
}

} // namespace hollowtop
