// SPDX-License-Identifier: MIT
// The lowest frequency at which the top bounces on its supports. It belongs to the top, not to a load: one
// row.
#include "solver/checks/judges.hpp"

namespace hollowtop {

std::optional<CheckResult> judge_bounce(const CheckInput& input) {
    const bool is_first =
        !input.response.situations.empty() && input.situation.name == input.response.situations.front().name;
    if (!is_first || input.response.frequency_Hz.empty()) return std::nullopt;
    // A lower bound is asked for, so the wish is the demand and what the top has is the capacity.
    const double lively_Hz =
        8; // timber floors under 8 Hz ask for a special study: EN 1995-1-1 7.3.3, from memory
    CheckResult row;
    row.demand = input.piece.limits.frequency_Hz.value_or(lively_Hz);
    row.capacity = input.response.frequency_Hz.front();
    row.unit = "Hz";
    row.advice = !input.piece.limits.frequency_Hz;
    row.basis =
        row.advice ? "no limit is set; under 8 Hz a floor is felt to bounce (EN 1995-1-1 7.3.3, from "
                     "memory), and no limit for "
                     "tops is known"
                   : "limits.frequency; the capacity is the top's first frequency, without what stands on it";
    row.remedy = "stiffen the top, or move the supports closer";
    return row;
}

} // namespace hollowtop
