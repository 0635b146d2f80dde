// SPDX-License-Identifier: MIT
// How far the show face is from a straightedge under what stays, at once and after the years.
#include "solver/capacity/limits.hpp"
#include "solver/checks/judges.hpp"

#include <cmath>

namespace hollowtop {
namespace {

std::optional<CheckResult> judged(const CheckInput& input, Stage stage, const char* remedy) {
    if (input.situation.stage != stage || !input.situation.flatness) return std::nullopt;
    const std::optional<FlatnessLimit> limit = flatness_limit(input.piece.limits, stage);
    if (!limit) return std::nullopt;
    CheckResult row;
    row.demand = std::abs(input.situation.flatness->value_mm);
    row.capacity = limit->limit_mm;
    row.unit = "mm";
    row.at = input.situation.flatness->at;
    row.basis = limit->basis;
    row.remedy = remedy;
    return row;
}

} // namespace

std::optional<CheckResult> judge_flatness(const CheckInput& input) {
    return judged(
        input, Stage::at_once,
        "leave the skin or the top thicker, move the supports closer, or lighten the standing load");
}

std::optional<CheckResult> judge_flatness_years(const CheckInput& input) {
    return judged(input, Stage::years,
                  "leave the skin or the top thicker, add metal stiffeners, which do not creep, or lighten "
                  "the standing load");
}

} // namespace hollowtop
