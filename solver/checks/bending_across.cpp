// SPDX-License-Identifier: MIT
// Face stress across the grain: tension against tension across the grain (a lower bound), compression against compression.
// The thin skin of a hollowed top usually ends here.
#include "solver/checks/judges.hpp"

#include <cmath>

namespace hollowtop {

std::optional<CheckResult> judge_bending_across(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    const auto across = [&](const std::array<double, 3>& face) {
        return utilisation_across(face[1], *input.allowables);
    };
    const Worst worst = worst_of(input.situation.stress,
                                 [&](const StressSample& sample) { return greater_face(sample, across); });
    const bool on_top = across(worst.sample.top) >= across(worst.sample.bottom);
    const double stress = on_top ? worst.sample.top[1] : worst.sample.bottom[1];
    const materials::Allowable& allowable =
        stress >= 0 ? input.allowables->tension_across : input.allowables->compression_across;
    CheckResult row;
    row.demand = std::abs(stress);
    row.capacity = allowable.value;
    row.unit = "MPa";
    row.at = worst.sample.at;
    row.basis = (stress >= 0 ? "tension governs, " : "compression governs, ") +
                face_word(worst.sample, across) + "; " + allowable.basis;
    row.remedy = "leave the skin thicker, make the recess narrower across the grain, leave a land, or add a "
                 "stiffener across the grain "
                 "in slotted holes";
    return row;
}

} // namespace hollowtop
