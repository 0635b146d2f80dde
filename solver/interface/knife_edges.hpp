// SPDX-License-Identifier: MIT
#pragma once
/// \file  Bearers without a width: where one presses on the nodes of the mesh, or on narrow tiles across it.

#include "solver/interface/contact_point.hpp"
#include "solver/shell/shell.hpp"

#include <cmath>
#include <vector>

namespace hollowtop {

/// Does the line run along x, or along y, as closely as a mesh line takes it for its own?
inline bool runs_along_x(Point a, Point b) { return std::abs(a.y - b.y) < 1e-7; }
inline bool runs_along_y(Point a, Point b) { return std::abs(a.x - b.x) < 1e-7; }

/// Points of the knife edges that only press (or press on a stated stiffness), on the nodes of the shell's
/// mesh.
std::vector<ContactPoint> knife_edge_points(const Piece& piece, const Shell& shell,
                                            double through_thickness_modulus);

} // namespace hollowtop
