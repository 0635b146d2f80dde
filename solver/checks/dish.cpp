// SPDX-License-Identifier: MIT
// The local sinking of a recess skin against the piece's limit and against what the theory of small movements allows.
#include "materials/digits.hpp"
#include "solver/checks/judges.hpp"
#include "solver/checks/limits.hpp"

namespace hollowtop {

std::optional<CheckResult> judge_dish(const CheckInput& input) {
    if (!input.situation.dish_mm) return std::nullopt;
    CheckResult row;
    row.demand = *input.situation.dish_mm;
    row.capacity = dish_limit_mm(input.piece, input.response);
    row.unit = "mm";
    row.at = input.situation.dish_at;
    row.basis = "limits.dish (the default of 0.6 mm is a proposal, no published limit is known)";
    row.remedy = "leave the skin thicker, make the recess narrower, or leave a land in it";
    const double half_skin = input.situation.dish_skin_mm / 2;
    if (half_skin > 0 && half_skin < row.capacity) {
        row.capacity = half_skin;
        row.basis = "half the skin of " + materials::digits(input.situation.dish_skin_mm) +
                    " mm: beyond it the theory of small movements does not hold (Timoshenko and "
                    "Woinowsky-Krieger, Theory of Plates "
                    "and Shells, 1959, art. 13, from memory)";
    }
    return row;
}

} // namespace hollowtop
