// SPDX-License-Identifier: MIT
#pragma once
/// \file  Unit forces spread over tiles of the top's underside, as nodal forces of the shell. Units: N, mm.

#include "solver/interface/contact_point.hpp"
#include "solver/shell/shell.hpp"

#include <array>
#include <vector>

namespace hollowtop {

/// Sparse column of an upward unit force spread evenly over the tile; appended to `columns`.
void append_tile_force(const Shell& shell, const ContactPoint& tile, SparseColumns& columns);

/// The same for a force along `direction` (x, y, z) at height z from the top face.
void append_tile_force(const Shell& shell, const ContactPoint& tile, const std::array<double, 3>& direction,
                       double z, SparseColumns& columns);
/// The same for a moment of 1 N mm that turns the top's section: its upper fibres towards `direction`.
void append_tile_turn(const Shell& shell, const ContactPoint& tile, Point direction, SparseColumns& columns);

/// Quadrature points of a tile, their weights shares of its area as its pressure is spread.
std::vector<QuadraturePoint> tile_points(const Shell& shell, const ContactPoint& tile);

} // namespace hollowtop
