// SPDX-License-Identifier: MIT
#include "materials/weakest_link.hpp"

#include "materials/digits.hpp"
#include "materials/strength.hpp"
#include "materials/table.hpp"

#include <cmath>

namespace hollowtop::materials {

const WeakestLink& weakest_link() {
    static const WeakestLink known = [] {
        const Sourced m = rule("wood_rules", "weakest_link_m"),
                      block = rule("wood_rules", "weakest_link_volume_handbook"),
                      member = rule("wood_rules", "weakest_link_volume_class");
        constexpr double mm3_per_cm3 = 1000;
        return WeakestLink{.exponent = static_cast<int>(std::lround(m.value)),
                           .handbook_mm3 = block.value * mm3_per_cm3,
                           .class_mm3 = member.value * mm3_per_cm3,
                           .exponent_said = "exponent " + digits(m.value) + cited(m),
                           .handbook_said = digits(block.value) + " cm3 under even tension" + cited(block),
                           .class_said = digits(member.value) + " cm3 under even tension" + cited(member)};
    }();
    return known;
}

double strength_ratio_of_volumes(double volume_mm3, double known_mm3) {
    return std::pow(known_mm3 / volume_mm3, 1.0 / weakest_link().exponent);
}

BasesAcross bases_across(const Wood& wood) {
    constexpr double flat_sawn = 0, air_dry = 12, clear = 1;
    BasesAcross bases{.strength_class = wood.softwood ? "C24" : "D30"};
    bases.handbook_MPa =
        handbook_allowables(wood, flat_sawn, air_dry, clear, Duration::long_term).tension_across.value;
    bases.class_MPa =
        class_allowables(bases.strength_class, 1, Duration::long_term).tension_across_block.value;
    return bases;
}

std::string why_bases_differ(const Wood& wood) {
    return "the handbook's is " +
           std::string(wood.tension_perp ? "the mean of this wood's clear blocks"
                                         : "what stands in for this wood's clear blocks") +
           " less its scatter, EN 338's one low value of sawn " +
           (wood.softwood ? "softwoods" : "hardwoods") +
           " of every class, knots and checks in it, brought to the same volume";
}

} // namespace hollowtop::materials
