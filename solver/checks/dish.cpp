// SPDX-License-Identifier: MIT
// The local sinking of a recess skin against what the theory of small movements allows, and against a limit
// where the piece states one.
#include "materials/digits.hpp"
#include "solver/checks/judges.hpp"

namespace hollowtop {

std::optional<CheckResult> judge_dish(const CheckInput& input) {
    if (!input.situation.dish_mm || !(input.situation.dish_skin_mm > 0)) return std::nullopt;
    CheckResult row;
    row.demand = *input.situation.dish_mm;
    row.unit = "mm";
    row.at = input.situation.dish_at;
    row.capacity = input.situation.dish_skin_mm / 2;
    row.basis =
        said("half the skin of {}: beyond it the theory of small movements does not hold (Timoshenko and "
             "Woinowsky-Krieger, Theory of Plates and Shells, 1959, art. 13, from memory)",
             amount(input.situation.dish_skin_mm, Unit::mm));
    row.remedy = "leave the skin thicker, make the recess narrower, or leave a land in it";
    const MovementLimit& limit = input.piece.limits.dish;
    if (limit.is_stated && input.situation.stage != Stage::passing && limit.length < row.capacity) {
        row.capacity = limit.length;
        row.basis = "the length given as limits.dish";
    }
    return row;
}

} // namespace hollowtop
