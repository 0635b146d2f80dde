// SPDX-License-Identifier: MIT
// Sag at once and after the years, against the piece's limits.
#include "solver/capacity/limits.hpp"
#include "solver/checks/judges.hpp"

namespace hollowtop {
namespace {

CheckResult compared(const CheckInput& input, const char* remedy) {
    const SagLimit limit = sag_limit(input.piece, input.situation);
    CheckResult row;
    row.demand = input.situation.sag_mm;
    row.capacity = limit.limit_mm;
    row.unit = "mm";
    row.at = input.situation.sag_at;
    row.basis = limit.basis;
    row.remedy = remedy;
    return row;
}

} // namespace

std::optional<CheckResult> judge_sag(const CheckInput& input) {
    if (input.situation.stage == Stage::years) return std::nullopt;
    return compared(
        input, "leave the skin or the rim thicker, add or deepen stiffeners, or move the supports closer");
}

std::optional<CheckResult> judge_sag_years(const CheckInput& input) {
    if (input.situation.stage != Stage::years) return std::nullopt;
    return compared(
        input,
        "add metal stiffeners, which do not creep, leave the skin thicker, or lighten the standing load");
}

} // namespace hollowtop
