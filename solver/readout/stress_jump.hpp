// SPDX-License-Identifier: MIT
#pragma once
/// \file  How far stresses jump from cell to cell beside a place.
///
/// The true stresses are continuous there; what a mesh gives is not, and where the field bends faster than its cells
/// can follow (beside a wall, an edge, the end of a support) it jumps by what is missing: the jump is the classical
/// sign of a mesh's local error (Babuska and Rheinboldt, Int. J. Numer. Methods Eng. 12, 1978, 1597-1615, from memory).
/// It shows errors that two orders of one mesh have in common.

#include "solver/result/response.hpp"
#include "solver/shell/shell.hpp"
#include "solver/shell/strain_mean.hpp"

#include <span>
#include <utility>
#include <vector>

namespace hollowtop {

/// Where cells meet beside a place: on the lines of the mesh that bound its cell or pass within one thickness, over a
/// stretch one thickness long. Pairs of points on either side of a line, of the same section of wood; mm.
struct JumpPoints {
    using Pair = std::pair<StrainMean, StrainMean>;
    std::vector<std::vector<Pair>> lines{};
};
JumpPoints jump_points(const Shell& shell, Point at);

/// The greatest jump of each stress over any of the lines, the mean along the stretch, MPa; noughts where no cells
/// meet. `dofs` as in stress_of.
StressSample stress_jump(const Shell& shell, const JumpPoints& points, std::span<const double> dofs);

} // namespace hollowtop
