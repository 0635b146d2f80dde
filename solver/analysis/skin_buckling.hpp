// SPDX-License-Identifier: MIT
#pragma once
/// \file  Buckling of a recess's skin under the forces in its plane.
///
/// Linear: (K - factor Kg) w = 0 over a rectangle, by Ritz with polynomials (Timoshenko and Gere, Theory of Elastic Stability,
/// 1961, ch. 8 and 9). A recess counts as simply supported along its bounding rectangle: its rim holds it harder, and a skin that
/// fills less of the rectangle is stiffer, so the factor is a low one. Units: N, mm, MPa. Limits: thin plate, one thickness.

#include "solver/analysis/respond.hpp"
#include "solver/shell/recovery.hpp"
#include "solver/shell/section_stiffness.hpp"

#include <array>
#include <functional>
#include <optional>
#include <vector>

namespace hollowtop {

/// How the four edges are held.
enum class PlateEdges { simply_supported, clamped };

/// Forces in the plane [x, y, xy] at a point, N/mm, tension +.
using PlaneForces = std::function<std::array<double, 3>(Point)>;

/// Lowest factor by which `forces` must grow for the plate to buckle; empty where they never would. Q: plane stress stiffness.
std::optional<double> plate_buckling(const Matrix3& Q, double thickness, const Rectangle& plate, PlateEdges edges, const PlaneForces& forces);

/// Where the skins' forces are read, one for each recess that has no land.
struct SkinPoints {
    int recess = 0;
    Rectangle box{};
    int n = 0;                     ///< points along x and along y
    std::vector<StrainMean> means; ///< n x n, along x first; empty parts outside the skin
};
std::vector<SkinPoints> skin_points(const Shell& shell);

/// Lowest buckling factor of all skins in a situation; empty where none could buckle.
std::optional<double> skin_buckling(const Shell& shell, const std::vector<SkinPoints>& skins, const SolvedSituation& situation);

} // namespace hollowtop
