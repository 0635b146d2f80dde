// SPDX-License-Identifier: MIT
#include "materials/moisture.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/table.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <utility>

namespace hollowtop::materials {
namespace {

double value_of(std::string_view id) { return rule("wood_rules", id).value; }

/// a + b T + c T^2, the form of the four coefficients of Eq. 4-5.
double sorption_coefficient(const std::string& name, double T) {
    return value_of("emc_" + name + "_a") +
           T * (value_of("emc_" + name + "_b") + T * value_of("emc_" + name + "_c"));
}

bool is_rich_in_extractives(const Wood& wood) {
    return wood.id == "cedar_western_red" || wood.id == "redwood_old" || wood.id == "redwood_young";
}

/// Volume shrinkage; where none is printed, the one that radial and tangential shrinkage give together.
double volume_shrinkage_percent(const Wood& wood) {
    if (wood.shrink_V_percent) return *wood.shrink_V_percent;
    if (wood.shrink_R_percent && wood.shrink_T_percent)
        return 100 * (1 - (1 - *wood.shrink_R_percent / 100) * (1 - *wood.shrink_T_percent / 100));
    throw Error(ErrorKind::input, Fault{"", "no shrinkage is published for " + wood.common_name, ""});
}

/// One direction: the coefficient of Table 13-5, or the one that Eq. 13-3 gives from 10 %: 1 / (100 s / S - s
/// + 10).
Sourced movement_in_direction(const Wood& wood, std::optional<double> printed,
                              std::optional<double> shrinkage) {
    if (printed) return {*printed, "Wood Handbook FPL-GTR-190 Table 13-5", wood.coef_status};
    if (!shrinkage)
        throw Error(ErrorKind::input, Fault{"",
                                            "neither a movement coefficient nor the shrinkage of " +
                                                wood.common_name + " is published",
                                            "choose a related wood"});
    const double saturation =
        value_of(is_rich_in_extractives(wood) ? "fibre_saturation_extractive" : "fibre_saturation");
    const double middle_percent = 10;
    return {1 / (100 * saturation / *shrinkage - saturation + middle_percent),
            "Wood Handbook Eq. 13-3 from the shrinkage of the wood's row", wood.shrink_status};
}

} // namespace

double equilibrium_moisture_percent(double T, double humidity_percent) {
    if (!(humidity_percent > 0 && humidity_percent < 100))
        throw Error(ErrorKind::input,
                    Fault{"", "a relative humidity of " + digits(humidity_percent) + " % is not possible",
                          "give more than 0 and less than 100"});
    const double W = sorption_coefficient("W", T);
    const double Kh = sorption_coefficient("K", T) * humidity_percent / 100;
    const double K1 = sorption_coefficient("K1", T);
    const double K2 = sorption_coefficient("K2", T);
    const double bound = (K1 * Kh + 2 * K1 * K2 * Kh * Kh) / (1 + K1 * Kh + K1 * K2 * Kh * Kh);
    return 1800 / W * (Kh / (1 - Kh) + bound);
}

double property_at_moisture(double at_12, double green, double moisture_percent,
                            double intersection_percent) {
    if (moisture_percent >= intersection_percent) return green;
    return at_12 * std::pow(at_12 / green, (12 - moisture_percent) / (intersection_percent - 12));
}

Sourced intersection_moisture_percent(const Wood& wood) {
    static const std::pair<const char*, const char*> rows[] = {
        {"ash_white", "Mp_white_ash"},
        {"birch_yellow", "Mp_yellow_birch"},
        {"chestnut_american", "Mp_american_chestnut"},
        {"douglas_fir_coast", "Mp_douglas-fir"},
        {"douglas_fir_interior_north", "Mp_douglas-fir"},
        {"hemlock_western", "Mp_western_hemlock"},
        {"larch_western", "Mp_western_larch"},
        {"pine_loblolly", "Mp_loblolly_pine"},
        {"pine_longleaf", "Mp_longleaf_pine"},
        {"pine_red", "Mp_red_pine"},
        {"redwood_old", "Mp_redwood"},
        {"redwood_young", "Mp_redwood"},
        {"spruce_red", "Mp_red_spruce"},
        {"spruce_sitka", "Mp_sitka_spruce"},
        {"tamarack", "Mp_tamarack"}};
    for (const auto& [id, row] : rows)
        if (wood.id == id) return rule("wood_rules", row);
    return rule("wood_rules", "Mp_default");
}

Sourced movement_per_percent(const Wood& wood, double ring_angle_deg) {
    const double phi = ring_angle_deg * std::numbers::pi / 180;
    const double radial_share = std::sin(phi) * std::sin(phi);
    if (radial_share < 1e-9)
        return movement_in_direction(wood, wood.coef_T_per_percent, wood.shrink_T_percent);
    Sourced radial = movement_in_direction(wood, wood.coef_R_per_percent, wood.shrink_R_percent);
    if (radial_share > 1 - 1e-9) return radial;
    const Sourced tangential = movement_in_direction(wood, wood.coef_T_per_percent, wood.shrink_T_percent);
    return {tangential.value * (1 - radial_share) + radial.value * radial_share, tangential.source,
            tangential.status};
}

double width_change(double width, double per_percent, double from_percent, double to_percent) {
    return width * per_percent * (to_percent - from_percent);
}

double width_change_by_shrinkage(double width, double shrinkage_percent, double from_percent,
                                 double to_percent, double fibre_saturation_percent) {
    const double s = fibre_saturation_percent;
    return width * (to_percent - from_percent) / (s * 100 / shrinkage_percent - s + from_percent);
}

double shrinkage_at(double total_shrinkage_percent, double moisture_percent) {
    const double saturation = value_of("fibre_saturation");
    return total_shrinkage_percent * std::max(0.0, 1 - moisture_percent / saturation);
}

double specific_gravity_at(double basic_specific_gravity, double volume_shrinkage_percent_,
                           double moisture_percent) {
    return basic_specific_gravity / (1 - shrinkage_at(volume_shrinkage_percent_, moisture_percent) / 100);
}

double density_kg_m3(const Wood& wood, double moisture_percent) {
    const double shrinkage = volume_shrinkage_percent(wood);
    const double basic = wood.sg_12 * (1 - shrinkage_at(shrinkage, 12) / 100);
    return 1000 * specific_gravity_at(basic, shrinkage, moisture_percent) * (1 + moisture_percent / 100);
}

} // namespace hollowtop::materials
