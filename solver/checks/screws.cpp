// SPDX-License-Identifier: MIT
// Each screw of the stiffeners: in shear, pulled out, both at once.
#include "solver/capacity/screw_strength.hpp"
#include "solver/checks/judges.hpp"

#include <algorithm>
#include <functional>

namespace hollowtop {
namespace {

std::string forces_of_stiffener(const CheckInput& input, const ScrewForce& screw) {
    return "a screw of \"" + input.piece.stiffeners[static_cast<size_t>(screw.stiffener)].name + "\"; ";
}

/// The screw with the greatest share; empty where there are no screws or no strength is known.
std::optional<CheckResult>
worst_screw(const CheckInput& input, const std::function<std::optional<double>(const ScrewUse&)>& share,
            const std::function<void(const ScrewForce&, const ScrewUse&, CheckResult&)>& fill) {
    const ScrewForce* worst = nullptr;
    ScrewUse use_of_worst;
    ScrewUses own(input.piece), &uses = input.screw_uses ? *input.screw_uses : own;
    for (const ScrewForce& screw : input.situation.screws) {
        ScrewUse use = uses.of(screw, input.situation.duration, input.situation.judged_for);
        if (!share(use)) continue;
        if (worst && !is_more(*share(use), *share(use_of_worst))) continue;
        worst = &screw;
        use_of_worst = std::move(use);
    }
    if (!worst) return std::nullopt;
    CheckResult row;
    row.at = worst->at;
    fill(*worst, use_of_worst, row);
    return row;
}

} // namespace

std::optional<CheckResult> judge_screw_shear(const CheckInput& input) {
    return worst_screw(
        input, [](const ScrewUse& use) { return use.shear; },
        [&](const ScrewForce& screw, const ScrewUse& use, CheckResult& row) {
            row.demand = screw.shear_N;
            row.capacity = use.shear_capacity_N;
            row.unit = "N";
            row.basis = forces_of_stiffener(input, screw) + use.shear_basis;
            row.remedy = "set the screws closer towards the ends, or take thicker ones";
        });
}

std::optional<CheckResult> judge_screw_withdrawal(const CheckInput& input) {
    return worst_screw(
        input, [](const ScrewUse& use) { return use.withdrawal; },
        [&](const ScrewForce& screw, const ScrewUse& use, CheckResult& row) {
            row.demand = screw.withdrawal_N;
            row.capacity = use.withdrawal_capacity_N;
            row.unit = "N";
            row.basis = forces_of_stiffener(input, screw) + use.withdrawal_basis;
            row.remedy = "take longer or thicker screws, or set them closer";
        });
}

std::optional<CheckResult> judge_screw_both(const CheckInput& input) {
    return worst_screw(
        input, [](const ScrewUse& use) { return use.both; },
        [&](const ScrewForce& screw, const ScrewUse& use, CheckResult& row) {
            row.demand = *use.both;
            row.capacity = 1;
            row.unit = "1";
            row.basis = forces_of_stiffener(input, screw) +
                        "root of the sum of squares, EN 1995-1-1 eq. 8.28; " + use.both_basis;
            row.remedy = "set the screws closer, or take thicker ones";
        });
}

} // namespace hollowtop
