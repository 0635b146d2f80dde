// SPDX-License-Identifier: MIT
// Greatest shear through the thickness in the plane that holds the grain (1-3).
#include "solver/checks/judges.hpp"

#include <cmath>

namespace hollowtop {

std::optional<CheckResult> judge_shear_through(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    const Worst worst = worst_of(input.situation.stress,
                                 [](const StressSample& sample) { return std::abs(sample.shear[0]); });
    CheckResult row;
    row.demand = worst.value;
    row.capacity = input.allowables->shear.value;
    row.unit = "MPa";
    row.at = worst.sample.at;
    row.basis = input.allowables->shear.basis;
    row.remedy = "leave full thickness at the supports, or spread the load there";
    return row;
}

} // namespace hollowtop
