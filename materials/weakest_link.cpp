// SPDX-License-Identifier: MIT
#include "materials/weakest_link.hpp"

#include "materials/digits.hpp"
#include "materials/table.hpp"

#include <cmath>

namespace hollowtop::materials {

const WeakestLink& weakest_link() {
    static const WeakestLink known = [] {
        const Sourced m = rule("wood_rules", "weakest_link_m"),
                      block = rule("wood_rules", "weakest_link_volume_handbook"),
                      member = rule("wood_rules", "weakest_link_volume_class");
        constexpr double mm3_per_cm3 = 1000;
        return WeakestLink{
            .exponent = static_cast<int>(std::lround(m.value)),
            .handbook_mm3 = block.value * mm3_per_cm3,
            .class_mm3 = member.value * mm3_per_cm3,
            .exponent_said = said("exponent {}{}", number(m.value), cited(m)),
            .handbook_said = said("{} under even tension{}", amount(block.value, Unit::cm3), cited(block)),
            .class_said = said("{} under even tension{}", amount(member.value, Unit::cm3), cited(member))};
    }();
    return known;
}

double strength_ratio_of_volumes(double volume_mm3, double known_mm3) {
    return std::pow(known_mm3 / volume_mm3, 1.0 / weakest_link().exponent);
}

} // namespace hollowtop::materials
