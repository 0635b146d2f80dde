// SPDX-License-Identifier: MIT
#pragma once
/// \file  Tension across the grain as a weakest-link strength: the more wood is pulled, the less it bears.
///
/// Weibull, A statistical theory of the strength of materials, 1939: wood under even tension on a volume V
/// bears (V_0/V)^(1/m) times what it bears on V_0. Exponent and volumes come from data/wood_rules.csv, each
/// with its source.

#include "materials/message.hpp"

namespace hollowtop::materials {

struct WeakestLink {
    int exponent = 0; ///< m
    double handbook_mm3 =
        0; ///< volume at which the handbook's tension across the grain holds under even tension
    double class_mm3 = 0;                             ///< the same of f_t,90,k of EN 338
    Message exponent_said, handbook_said, class_said; ///< each with its source
};
const WeakestLink& weakest_link();

/// Strength under even tension on one volume over that on another.
double strength_ratio_of_volumes(double volume_mm3, double known_mm3);

} // namespace hollowtop::materials
