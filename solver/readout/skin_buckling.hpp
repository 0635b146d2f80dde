// SPDX-License-Identifier: MIT
#pragma once
/// \file  Buckling of a recess's skin under the forces in its plane.
///
/// Linear: (K - factor Kg) w = 0 over a rectangle, by Ritz with polynomials (Timoshenko and Gere, Theory of
/// Elastic Stability, 1961, ch. 8 and 9). A recess counts as simply supported along the smallest rectangle about
/// it, at whatever angle: its rim holds it harder, and a skin that fills less of the rectangle is stiffer, so the factor is a low
/// one. Units: N, mm, MPa. Limits: thin plate, one thickness.

#include "solver/section/section_stiffness.hpp"
#include "solver/shell/recovery.hpp"
#include "solver/situations/respond.hpp"

#include <array>
#include <memory>
#include <optional>
#include <span>
#include <vector>

namespace hollowtop {

/// How the four edges are held.
enum class PlateEdges { simply_supported, clamped };

/// Forces in the plane [x, y, xy], N/mm, tension +.
using PlaneForces = std::array<double, 3>;

/// A plate that may be pressed in its plane in many ways.
class PressedPlate {
  public:
    /// Q: plane stress stiffness, MPa.
    PressedPlate(const Matrix3& Q, double thickness, const Rectangle& plate, PlateEdges edges);
    /// Where the forces are told: 12 x 12 points, along x first.
    const std::vector<Point>& points() const { return points_; }
    /// Lowest factor by which `forces` must grow for the plate to buckle; empty where they never would.
    std::optional<double> buckling(std::span<const PlaneForces> forces) const;

  private:
    std::vector<Point> points_;
    std::vector<double>
        slopes_; ///< x and y at each point, of shapes that bend with unit energy and without one another; column by column
};

/// A rectangle at any angle: `box` in axes along a direction and to its left, about the origin.
struct LeaningBox {
    Point along{1, 0};
    Rectangle box{};
};
/// The smallest rectangle about a loop with a side along one of its straight pieces; along x and y where none is smaller.
LeaningBox smallest_box(const Loop& loop);

/// A stiffness, and forces, in axes along a direction and to its left.
Matrix3 in_axes(const Matrix3& Q, Point along);
PlaneForces in_axes(const PlaneForces& forces, Point along);

/// Where the skins' forces are read, one for each recess that has no land.
struct SkinPoints {
    int recess = 0;
    Point along{1, 0}; ///< the plate's axis
    std::shared_ptr<const PressedPlate>
        plate{};                   ///< from the corner of the recess's box; equal skins share it
    std::vector<StrainMean> means; ///< one a point of the plate; empty parts outside the skin
};
std::vector<SkinPoints> skin_points(const Shell& shell);

/// Lowest buckling factor of all skins in a situation; empty where none could buckle.
std::optional<double> skin_buckling(const Shell& shell, const std::vector<SkinPoints>& skins,
                                    const SolvedSituation& situation);

} // namespace hollowtop
