// SPDX-License-Identifier: MIT
// The wood at a glue line: sheared along its grain, or rolled where the grains cross.
#include "materials/digits.hpp"
#include "materials/metal.hpp"
#include "materials/section.hpp"
#include "solver/capacity/bar_wood.hpp"
#include "solver/checks/judges.hpp"

#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

/// How much shear the wood bears in a direction: along the grain its shear strength, across it rolling shear,
/// between the two the root of the sum of squares of both shares (judgement).
double strength(double along, double across, const materials::AllowableStresses& wood) {
    return std::hypot(along, across) /
           std::hypot(along / wood.shear.value, across / wood.rolling_shear.value);
}

const Message& basis_of(double along, double across, const materials::AllowableStresses& wood) {
    return std::abs(along) / wood.shear.value >= std::abs(across) / wood.rolling_shear.value
               ? wood.shear.basis
               : wood.rolling_shear.basis;
}

} // namespace

std::optional<CheckResult> judge_glue_line(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    std::optional<CheckResult> worst;
    const double grain = input.piece.top.grain_deg * std::numbers::pi / 180;
    for (std::size_t i = 0; i < input.situation.stiffeners.size(); ++i) {
        const Stiffener& stiffener = input.piece.stiffeners[i];
        const auto bar = strengths_of_bar(input.piece, input.situation, input.allowables, stiffener);
        const double turned =
            std::atan2(stiffener.to.y - stiffener.from.y, stiffener.to.x - stiffener.from.x) - grain;
        const double c = std::cos(turned), s = std::sin(turned);
        const materials::Section section = materials::parse_section(stiffener.section);
        for (const GlueStress& glue : input.situation.stiffeners[i].glue) {
            const double demand = std::hypot(glue.along, glue.across);
            if (!(demand > 0)) continue;
            const auto consider = [&](double along, double across, const materials::AllowableStresses& wood,
                                      const char* whose) {
                const double capacity = strength(along, across, wood);
                if (worst && !is_more(demand / capacity, worst->demand / worst->capacity)) return;
                CheckResult row;
                row.demand = demand;
                row.capacity = capacity;
                row.unit = "MPa";
                row.at = glue.at;
                row.basis =
                    said("glue of \"{}\", {} a mm of its length; the wood of the {}: {}. The glue "
                         "itself, and how it peels at its ends, are not judged",
                         stiffener.name, amount(demand * (section.contact_y1 - section.contact_y0), Unit::N),
                         whose, basis_of(along, across, wood));
                row.remedy = "take a wider bar, or a longer one that ends where less is carried";
                worst = row;
            };
            consider(glue.along * c - glue.across * s, glue.along * s + glue.across * c, *input.allowables,
                     "top");
            if (bar) consider(glue.along, glue.across, *bar, "bar");
        }
    }
    return worst;
}

} // namespace hollowtop
