// SPDX-License-Identifier: MIT
#pragma once
/// \file  The nine elastic constants of a wood at its moisture, and how they look in the plane of a board
/// whose growth rings lie at a given angle.
///
/// L along the grain, R radial, T tangential. Ring angle phi: 0 flat-sawn (across the width T, through the
/// thickness R), 90 quarter-sawn (the other way round), 45 rift-sawn.
/// Sources: Wood Handbook FPL-GTR-190 tables 5-1 and 5-2; each row of data/*.csv names its own.

#include "materials/message.hpp"
#include "materials/wood.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop::materials {

/// The nine elastic constants in MPa. nu_ij: stress along i, strain along j.
struct WoodConstants {
    double E_L = 0, E_R = 0, E_T = 0, G_LR = 0, G_LT = 0, G_RT = 0, nu_LR = 0, nu_LT = 0, nu_RT = 0;
    double density_kg_m3 = 0; ///< at the moisture content asked for
    std::vector<Message>
        assumptions; ///< ratios of a kin, measured values, moisture: one sentence each, with source
};

/// Constants at `moisture_percent`. E_L = 1.10 x the bending modulus (Wood Handbook table 5-1 note);
/// `measured_E_along` is a bending modulus too and replaces the handbook's; the other moduli follow it.
/// Moduli that a source gives as such are taken as they are (data/elastic_moduli.csv); other woods take
/// ratios to E_L, their own or those of a named kin, and say so.
/// Drier than 12 % takes no credit; wetter is reduced by the handbook's middle trend.
WoodConstants wood_constants(const Wood& wood, double moisture_percent,
                             std::optional<double> measured_E_along = {},
                             std::optional<double> measured_density_kg_m3 = {});

/// Constants of a board in its own plane: 1 along the grain, 2 across it in the plane, 3 through the
/// thickness. MPa.
struct PlaneConstants {
    double E1 = 0, E2 = 0, nu12 = 0, G12 = 0, G13 = 0, G23 = 0;
    double E3 = 0; ///< through the thickness, for bearing; 0 where not known
};

/// Turns the constants by the ring angle, degrees. Formulas: docs/method.md, "Rings"; rotation of an
/// orthotropic compliance about L, with the coupling of normal and shear strain in the y-z plane left out.
PlaneConstants turned_by_rings(const WoodConstants& wood, double ring_angle_deg);

} // namespace hollowtop::materials
