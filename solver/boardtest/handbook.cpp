// SPDX-License-Identifier: MIT
#include "solver/boardtest/handbook.hpp"

#include "materials/table.hpp"
#include "materials/wood_constants.hpp"

namespace hollowtop {

Handbook handbook_of(const materials::Wood& wood, double ring_angle_deg) {
    constexpr double at_12 = 12;
    // as uncertain as for a wood that is not named: 2.9 in 15, and across the grain, where less is known,
    // more (judgement)
    constexpr double shear_scatter = 0.2, shear_scatter_across = 0.3;
    const materials::WoodConstants constants = materials::wood_constants(wood, at_12);
    const materials::PlaneConstants plane = materials::turned_by_rings(constants, ring_angle_deg);
    const materials::Sourced scatter = materials::rule("wood_rules", "cov_moe"),
                             of_weight = materials::rule("wood_rules", "cov_sg");
    const auto with = [](double value, double share) {
        return Gauged{.value = value, .error = share * value};
    };
    Handbook book;
    book.E_along = with(plane.E1, scatter.value / 100);
    book.E_across = with(plane.E2, scatter.value / 100);
    book.E_over_G = with(plane.E1 / plane.G13, shear_scatter);
    book.across_over_G = with(plane.E2 / plane.G23, shear_scatter_across);
    book.poisson_product = plane.nu12 * plane.nu12 * plane.E2 / plane.E1;
    book.density_kg_m3 = with(constants.density_kg_m3, of_weight.value / 100);
    const std::string whole = wood.moe_source.empty() ? wood.source : wood.moe_source;
    // what follows a semicolon is of other columns
    book.source = said("{}; scatter between boards {} %, {}", whole.substr(0, whole.find(';')),
                       number(scatter.value), scatter.source);
    return book;
}

} // namespace hollowtop
