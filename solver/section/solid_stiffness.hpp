// SPDX-License-Identifier: MIT
#pragma once
/// \file  The top's material as a solid in three dimensions: what plate theory leaves out, and what a section square
/// to a wall is made of. Units: MPa.

#include "materials/wood_constants.hpp"
#include "solver/piece/piece.hpp"
#include "solver/section/matrices.hpp"

namespace hollowtop {

/// Stiffness of the solid in axes of the grain (1 along, 2 across in the plane, 3 through the thickness), in
/// the order 11 22 33 23 13 12 with engineering shear strains, row-major, MPa. Rings between flat and
/// quarter-sawn couple 2-3 shear with pulls.
Matrix6 solid_stiffness(const materials::WoodConstants& wood, double ring_angle_deg);

/// For a top of stated constants, which has none through the thickness: E3 = E2, nu13 = nu12, and nu23 as if
/// 2 and 3 were alike,
/// E2 / (2 G23) - 1, held between 0.1 and 0.5 (exact for an isotropic sheet).
Matrix6 solid_stiffness(const Elastic& elastic);

/// Stiffness in the plane of a section square to a wall: `n` is the unit normal of the wall in axes of the
/// grain. Plane strain along the wall. [across, through, shear], row-major.
Matrix3 section_law(const Matrix6& solid, Point n);
/// Shear moduli of that section for movement along the wall: across, through the thickness. MPa.
std::array<double, 2> section_shear_moduli(const Matrix6& solid, Point n);

} // namespace hollowtop
