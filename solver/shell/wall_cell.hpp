// SPDX-License-Identifier: MIT
#pragma once
/// \file  What plate theory leaves out at a recess wall: the wood as a solid, and the solved cross-section of a wall, kept by its
/// inputs so that each distinct wall is solved once in a run.
/// Derivation, limits and figures: docs/walls.md.

#include "materials/wood.hpp"
#include "solver/shell/section_stiffness.hpp"
#include "solver/shell/step_section.hpp"

#include <memory>
#include <string>

namespace hollowtop {

/// Stiffness of the solid in axes of the grain (1 along, 2 across in the plane, 3 through the thickness), in the order 11 22 33
/// 23 13 12 with engineering shear strains, row-major, MPa. Rings between flat and quarter-sawn couple 2-3 shear with pulls.
Matrix6 solid_stiffness(const materials::WoodConstants& wood, double ring_angle_deg);

/// For a top of stated constants, which has none through the thickness: E3 = E2, nu13 = nu12, and nu23 as if 2 and 3 were alike,
/// E2 / (2 G23) - 1, held between 0.1 and 0.5 (exact for an isotropic sheet).
Matrix6 solid_stiffness(const Elastic& elastic);

/// Stiffness in the plane of a section square to a wall: `n` is the unit normal of the wall in axes of the grain. Plane strain
/// along the wall. [across, through, shear], row-major.
Matrix3 section_law(const Matrix6& solid, Point n);

/// The cross-section of a wall between `thick` and `skin`, whose unit normal in the top's axes is `across`. How the rings lean
/// is not known, so for rings that couple shear with pulls it is the mean of both leans. Safe to call from several threads.
std::shared_ptr<const StepAnswer> wall_cell(const PlaneStiffness& plane, double thick, double skin, double root_radius, Point across);

/// Extra compliance of the wall to shear along it: the movement along the wall a unit shear force in the skin, over that of two
/// shells joined at their own axes (each with its layer of turning beside the wall, first-order shear).
double wall_slip(const PlaneStiffness& plane, double thick, double skin, double root_radius, Point across);

/// The same with a crack of the given length from the root into the rim, for StepAnswer::release.
std::shared_ptr<const StepAnswer> cracked_wall_cell(const PlaneStiffness& plane, double thick, double skin, double root_radius,
                                                    Point across, double crack);

} // namespace hollowtop
