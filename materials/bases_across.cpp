// SPDX-License-Identifier: MIT
#include "materials/bases_across.hpp"

#include "materials/strength.hpp"

namespace hollowtop::materials {

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
