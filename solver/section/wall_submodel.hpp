// SPDX-License-Identifier: MIT
#pragma once
/// \file  What plate theory leaves out at a recess wall: the solved cross-section of a wall, kept by its inputs so
/// that each distinct wall is solved once in a run.
/// Derivation, limits and figures: docs/walls.md.

#include "solver/section/plane_stiffness.hpp"
#include "solver/section/submodel_section.hpp"

#include <array>
#include <memory>
#include <string>

namespace hollowtop {

/// The cross-section of a wall between `thick` and `skin`, whose unit normal in the top's axes is `across`.
/// How the rings lean is not known, so for rings that couple shear with pulls it is the mean of both leans.
/// Safe to call from several threads.
std::shared_ptr<const SubmodelAnswer> wall_submodel(const PlaneStiffness& plane, double thick, double skin,
                                                    double root_radius, Point across);

/// Its extra compliance for one of the many directions of a curved wall: between five cells solved from along
/// the grain to across it, a polynomial in the cosine of twice the angle. Within 1 % of the cell of that
/// direction.
Matrix3 curved_wall_compliance(const PlaneStiffness& plane, double thick, double skin, double root_radius,
                               Point across);

/// Shear moduli of movement along a wall: in the plane, and through the thickness.
std::array<double, 2> shear_along(const PlaneStiffness& plane, Point across);

/// Work of a unit shear flow and a unit twist along a wall less that without any layer beside it; thickness
/// 1, both moduli 1, sharp root: [flow flow, flow twist, twist twist].
std::array<double, 3> work_along_wall(double skin_share);

/// The same with a crack of the given length from the root into the rim, for SubmodelAnswer::release.
std::shared_ptr<const SubmodelAnswer> cracked_wall_submodel(const PlaneStiffness& plane, double thick,
                                                            double skin, double root_radius, Point across,
                                                            double crack);

} // namespace hollowtop
