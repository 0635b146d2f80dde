// SPDX-License-Identifier: MIT
#pragma once
/// \file  Wood and water: moisture of wood in given air, change of width, weight, and of stiffness and
/// strength. Sources: Wood Handbook FPL-GTR-190, Eq. 4-5 (sorption), 4-9, 4-11, 4-14 (density), 5-3 and
/// Tables 5-13, 5-14 (properties), 13-2, 13-3 and Table 13-5 (movement). Moisture content and humidity are
/// percent. Limits: movement from 6 to 14 % moisture content; properties at about 20 C, up to 20 %.

#include "materials/duration.hpp"
#include "materials/wood.hpp"

namespace hollowtop::materials {

/// Moisture content that wood comes to in air of that temperature and relative humidity (0 < humidity < 100).
/// Eq. 4-5.
double equilibrium_moisture_percent(double temperature_C, double humidity_percent);

/// Property at `moisture_percent` from its values at 12 % and green. Eq. 5-3. Holds below the intersection
/// moisture; above it the green value is given. Not for tension across the grain (says the source).
double property_at_moisture(double at_12, double green, double moisture_percent, double intersection_percent);

/// Intersection moisture content of Eq. 5-3: Table 5-13, or 25 % where the wood is not in it.
Sourced intersection_moisture_percent(const Wood& wood);

/// Change of width, as a fraction, per point of moisture content, for a board of that ring angle:
/// C_T cos2 + C_R sin2 (rotation of a strain). From Table 13-5, else from the shrinkage by Eq. 13-3 at 10 %.
/// Throws Error(input) where the wood has neither.
Sourced movement_per_percent(const Wood& wood, double ring_angle_deg);

/// Change of a width from one moisture content to another, with a coefficient. Eq. 13-2.
double width_change(double width, double movement_per_percent, double from_percent, double to_percent);

/// The same from the total shrinkage. Eq. 13-3; `fibre_saturation_percent` 30, or 22 for woods with much
/// extractive.
double width_change_by_shrinkage(double width, double shrinkage_percent, double from_percent,
                                 double to_percent, double fibre_saturation_percent = 30);

/// Shrinkage from green down to `moisture_percent`. Eq. 4-9; none above fibre saturation.
double shrinkage_at(double total_shrinkage_percent, double moisture_percent);

/// Oven-dry mass over the volume at `moisture_percent`, from the mass over the green volume. Eq. 4-11.
double specific_gravity_at(double basic_specific_gravity, double volume_shrinkage_percent,
                           double moisture_percent);

/// Weight of the wood at `moisture_percent`, kg/m3. Eq. 4-14 with 4-11, starting from its specific gravity at
/// 12 %.
double density_kg_m3(const Wood& wood, double moisture_percent);

} // namespace hollowtop::materials
