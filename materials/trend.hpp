// SPDX-License-Identifier: MIT
#pragma once
/// \file  How strength and stiffness of clear wood go with its moisture: the middle trends of the Wood Handbook.

#include "materials/sourced.hpp"

namespace hollowtop::materials {

/// What the handbook's middle trends (Table 5-14) are known for.
enum class Trend {
    stiffness_along,
    stiffness_across,
    shear_modulus,
    bending,
    tension_along,
    compression_along,
    shear,
    tension_across,
    compression_across
};

/// Factor on the value at 12 %: 1 at 12 % and drier (no credit), the middle trend between 12 and 20 %,
/// linear. Throws Error(input) above 20 % and at or below 0.
Sourced trend_factor(Trend trend, double moisture_percent);

} // namespace hollowtop::materials
