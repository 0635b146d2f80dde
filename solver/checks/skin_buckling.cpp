// SPDX-License-Identifier: MIT
// Buckling of a skin under the forces in its plane: told below three times the load, failed below the load itself.
#include "solver/checks/judges.hpp"

namespace hollowtop {

std::optional<CheckResult> judge_skin_buckling(const CheckInput& input) {
    constexpr double worth_telling = 3;
    if (!input.situation.buckling_factor || *input.situation.buckling_factor >= worth_telling)
        return std::nullopt;
    CheckResult row;
    row.demand = 1 / *input.situation.buckling_factor;
    row.capacity = 1;
    row.unit = "1";
    row.basis = "linear buckling of the recess's skin, simply supported along its bounding rectangle "
                "(Timoshenko and Gere, Theory of Elastic "
                "Stability, 1961); a real skin is never flat and bulges before";
    row.remedy = "leave the skin thicker, make the recess narrower, or leave a land";
    return row;
}

} // namespace hollowtop
