// SPDX-License-Identifier: MIT
#pragma once
/// \file  The skin's pull, moment and shear at every recess wall, the loads of the wall's cross-section.
///
/// They are read from the shell over a square of the skin beside the wall, as wide as the skin is thick, and
/// carried to the wall by the shear: dM/dx = V. Units: N, mm, MPa. Limits: at a corner of a recess two walls
/// share the skin; each is taken as a straight wall of its own.

#include "solver/result/response.hpp"
#include "solver/shell/recovery.hpp"

#include <span>
#include <vector>

namespace hollowtop {

struct WallPoint {
    Point at, across; ///< on the wall; unit normal from the skin into the rim
    double skin = 0, thick = 0, root_radius = 0;
    bool straight = true;
    double length = 0; ///< of the wall that it stands for
    StrainMean mean;
};

/// Points along every wall, at most sixteen to an edge.
std::vector<WallPoint> wall_points(const Shell& shell);

/// `creep factor`: after the years the wood's modulus is the reduced one.
WallSample wall_sample(const Shell& shell, const WallPoint& point, std::span<const double> dofs,
                       double creep_factor);

/// Face stresses at the root in grain axes, as in StressSample: means over one thickness of the skin from the
/// wall, across the wall from the solved cross-section, along it from the plate. `root_radius` may be another
/// than the wall's own.
struct WallFaces {
    std::array<double, 3> top{}, bottom{};
};
WallFaces wall_faces(const PlaneStiffness& plane, const WallSample& sample, double root_radius);

/// Energy released, N/mm, by a crack that runs from the root into the rim, level with the skin's underside
/// and one thickness of the skin long; from the solved cross-section, or a bound from beams (Gustafsson 1988;
/// turning at the tip as in Suo, Bao, Fan and Wang 1991) where that is at most `small`. 0 where the loads
/// close the crack.
struct Splitting {
    double energy = 0;
    bool is_bound = false;
};
Splitting splitting_at(const PlaneStiffness& plane, const WallSample& sample, double small);

} // namespace hollowtop
