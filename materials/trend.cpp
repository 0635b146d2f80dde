// SPDX-License-Identifier: MIT
#include "materials/trend.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/table.hpp"

namespace hollowtop::materials {
namespace {

const char* trend_id(Trend trend) {
    switch (trend) {
    case Trend::stiffness_along:
        return "trend_moe_parallel_20";
    case Trend::stiffness_across:
        return "trend_moe_perp_20";
    case Trend::shear_modulus:
        return "trend_shear_modulus_20";
    case Trend::bending:
        return "trend_bending_20";
    case Trend::tension_along:
        return "trend_tension_par_20";
    case Trend::compression_along:
        return "trend_comp_par_20";
    case Trend::shear:
        return "trend_shear_par_20";
    case Trend::tension_across:
        return "trend_tension_perp_20";
    case Trend::compression_across:
        return "trend_comp_perp_20";
    }
    throw Error(ErrorKind::not_computable, Fault{"", "no such trend", ""});
}

} // namespace

Sourced trend_factor(Trend trend, double moisture_percent) {
    if (!(moisture_percent > 0))
        throw Error(ErrorKind::input,
                    Fault{"top.moisture",
                          "a moisture content of " + digits(moisture_percent) + " % is not possible",
                          "give more than 0; wood indoors has 6 to 12"});
    if (moisture_percent > 20)
        throw Error(ErrorKind::input,
                    Fault{"top.moisture",
                          "at " + digits(moisture_percent) +
                              " % the wood is too wet: stiffness and strength are known up to 20 %",
                          "let it dry to 20 % or less"});
    const Sourced at_20 = rule("wood_rules", trend_id(trend));
    const double share = std::max(0.0, (moisture_percent - 12) / (20 - 12));
    return {1 + share * at_20.value / 100, at_20.source, at_20.status};
}

} // namespace hollowtop::materials
