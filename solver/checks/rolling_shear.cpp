// SPDX-License-Identifier: MIT
// Greatest shear through the thickness across the grain (2-3): the fibres roll over one another.
#include "solver/checks/judges.hpp"

#include <cmath>

namespace hollowtop {

std::optional<CheckResult> judge_rolling_shear(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    const Worst worst = worst_of(input.situation.stress,
                                 [](const StressSample& sample) { return std::abs(sample.shear[1]); });
    CheckResult row;
    row.demand = worst.value;
    row.capacity = input.allowables->rolling_shear.value;
    row.unit = "MPa";
    row.at = worst.sample.at;
    row.basis = input.allowables->rolling_shear.basis;
    row.remedy = "leave the skin thicker at the long walls of the recess, or widen the rim";
    return row;
}

} // namespace hollowtop
