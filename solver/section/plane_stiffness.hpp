// SPDX-License-Identifier: MIT
#pragma once
/// \file  Stiffness of the top's material in its plane and across it, in the top's axes. Units: MPa.
/// Source: Jones, Mechanics of Composite Materials, 1975, ch. 2.

#include "solver/piece/piece.hpp"
#include "solver/section/matrices.hpp"

#include <array>

namespace hollowtop {

/// Plane constants turned into the top's axes.
struct PlaneStiffness {
    Matrix3 Q{};               ///< plane-stress stiffness, x y xy, MPa
    std::array<double, 4> G{}; ///< transverse shear stiffness [xz xz, xz yz; yz xz, yz yz], MPa
    double grain_rad = 0;
    Point grain{1, 0};  ///< unit direction of the grain
    Matrix6 solid{};    ///< stiffness of the solid in axes of the grain (solid_stiffness.hpp)
    double density = 0; ///< kg/mm3
};

/// `elastic` in axes of the grain, which runs at `grain_deg` from x. `solid` takes what stands in through the
/// thickness.
PlaneStiffness plane_stiffness(const Elastic& elastic, double grain_deg);

/// Young's modulus for a pull along the unit direction n in the plane, and the shear modulus between n and z.
double modulus_along(const PlaneStiffness& plane, Point n);
double shear_modulus_along(const PlaneStiffness& plane, Point n);

} // namespace hollowtop
