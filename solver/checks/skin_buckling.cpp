// SPDX-License-Identifier: MIT
// Buckling of a skin under the forces in its plane: told below three times the load. Handbook: it has to bear
// twice the load on the mean modulus (judgement); strength class: once the design loads on the modulus that
// 95 % of the pieces reach.
#include "materials/digits.hpp"
#include "materials/strength.hpp"
#include "solver/checks/judges.hpp"

namespace hollowtop {

std::optional<CheckResult> judge_skin_buckling(const CheckInput& input) {
    constexpr double worth_telling = 3, needed_by_handbook = 2;
    if (!input.situation.buckling_factor) return std::nullopt;
    const bool by_class =
        input.piece.allowables.basis == AllowablesBasis::strength_class && input.piece.top.sheet.empty();
    const double weak = by_class ? materials::weak_modulus_share(input.piece.allowables.strength_class) : 1;
    CheckResult row;
    const double bears = *input.situation.buckling_factor * weak;
    if (bears >= worth_telling) return std::nullopt;
    row.demand = (by_class ? 1 : needed_by_handbook) / bears;
    row.capacity = 1;
    row.unit = std::string("1");
    row.basis =
        "linear buckling of the recess's skin, simply supported along the smallest rectangle about it "
        "(Timoshenko and Gere, Theory of Elastic "
        "Stability, 1961); ";
    row.basis += by_class ? said("on E_0,05, {} of the mean (EN 338)", number(weak))
                          : "twice the load, for a real skin is never flat and bulges before (judgement)";
    row.remedy = "leave the skin thicker, make the recess narrower, or leave a land";
    return row;
}

} // namespace hollowtop
