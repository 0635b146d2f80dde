// SPDX-License-Identifier: MIT
#pragma once
/// \file  What wood can bear: allowable stresses on two bases, the handbook's clear wood and a strength
/// class.
///
/// Handbook: mean of clear pieces x (1 - 1.645 COV) / ASTM D245 factor x strength ratio of the grade x
/// duration; against the force of a test / 1.15 and x duration / 1.6 in place of the factor, which holds 1.6
/// for ten years against the ten minutes of a strength test.
/// Compression across the grain in bending is the mean at the proportional limit, / 1.67, or against the
/// force of a test / 1.15.
/// Class: EN 338 characteristic value x k_mod / gamma_M (EN 1995-1-1 2.4.1).
/// Tension across the grain depends on how much wood is pulled (weakest_link.hpp): each value goes with its
/// volume.

#include "materials/duration.hpp"
#include "materials/message.hpp"
#include "materials/wood.hpp"

#include <string>

namespace hollowtop::materials {

/// One allowable stress, MPa, with a sentence that says how it was made and from which sources.
struct Allowable {
    double value = 0;
    Message basis;
};

struct AllowableStresses {
    Allowable bending_along; ///< face stress along the grain, either sign
    Allowable
        tension_across; ///< across the grain in the plane, of `tension_across_volume_mm3` under even tension
    Allowable
        compression_across; ///< face stress across the grain in the plane, compression (proportional limit)
    Allowable
        shear; ///< shear in planes that hold the grain (in the plane of the top; through the thickness along the grain)
    Allowable rolling_shear; ///< shear through the thickness across the grain
    double tension_across_volume_mm3 = 0;
    Allowable
        tension_across_block; ///< the same of the handbook's volume, on either basis: for a mean over a small place, as at a wall
    Allowable
        bearing; ///< pressure on the underside across the grain; does not depend on duration on the handbook basis
};

/// What an allowable is for: loads of use, or the force of a published test, which is itself the extreme: on
/// the handbook basis the weakest 5 % value at the test's duration / 1.15 stands against it (judgement),
/// without the divisor for ten years of load and safety.
enum class Against { loads_of_use, test_force };

/// Handbook basis. `grade_ratio` in (0, 1]. Throws Error(input) where the wood has no value and no stand-in
/// is published.
AllowableStresses handbook_allowables(const Wood& wood, double ring_angle_deg, double moisture_percent,
                                      double grade_ratio, Duration duration,
                                      Against against = Against::loads_of_use);

/// Class basis. `strength_class` as in EN 338 ("C24", "D30"); throws Error(input) with the nearest names if
/// unknown.
AllowableStresses class_allowables(const std::string& strength_class, int service_class, Duration duration);

/// E_0,05 over E_0,mean of a class (EN 338).
double weak_modulus_share(const std::string& strength_class);
/// Characteristic density rho_k of a strength class, kg/m3 (EN 338 Table 1).
Sourced class_density_k(const std::string& strength_class);

} // namespace hollowtop::materials
