// SPDX-License-Identifier: MIT
// Pressure of the supports on the underside, across the grain.
#include "solver/checks/judges.hpp"

namespace hollowtop {

std::optional<CheckResult> judge_bearing(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    const SupportForce* most = nullptr;
    for (const SupportForce& support : input.situation.supports)
        if (support.pressure_MPa > 0 && (!most || is_more(support.pressure_MPa, most->pressure_MPa))) most = &support;
    if (!most) return std::nullopt; // knife edges and held lines have no area
    CheckResult row;
    row.demand = most->pressure_MPa;
    row.capacity = input.allowables->bearing.value;
    row.unit = "MPa";
    row.at = most->pressure_at;
    row.basis = "at " + most->support + "; " + input.allowables->bearing.basis;
    row.remedy = "make the pad or the bearer larger";
    if (row.demand > row.capacity)
        for (const Support& support : input.piece.supports) {
            const auto* pad = std::get_if<Pad>(&support.kind);
            if (pad && support.name == most->support) row.remedy = "make the pad larger, or " + plate_under(pad->size_x, pad->size_y, row.demand / row.capacity);
        }
    return row;
}

} // namespace hollowtop
