// SPDX-License-Identifier: MIT
#pragma once
/// \file  Geometry of the wall submodel: lines of a grid in logical coordinates X, Z,
/// and where they lie. Above the level of the root's middle, z_m, skin and rim are bounded below by the
/// skin's underside and half the root's arc; below it the rim is bounded at the left by the other half and
/// the wall. Elsewhere X, Z are x, z.

#include "solver/section/submodel_input.hpp"

#include <vector>

namespace hollowtop {

struct SubmodelMesh {
    double thick = 0, skin = 0, radius = 0;
    double x_m = 0, z_m = 0;          ///< middle of the root
    double skin_end = 0, rim_end = 0; ///< x of the two ends
    double crack_tip = 0;             ///< x_m where there is no crack
    std::vector<double> xs, zs;       ///< lines; zs from the underside up
    int skin_columns = 0, low_rows = 0, crack_columns = 0;

    int columns() const { return static_cast<int>(xs.size()) - 1; }
    int rows() const { return static_cast<int>(zs.size()) - 1; }
    bool has(int column, int row) const { return column >= skin_columns || row >= low_rows; }
    /// Is the cell a rectangle in x, z?
    bool is_plain(int column, int row) const;
};

SubmodelMesh submodel_mesh(const SubmodelSection& section);

/// x, z and their derivatives at a point of a cell.
struct SubmodelPoint {
    double x = 0, z = 0, x_X = 1, x_Z = 0, z_X = 0, z_Z = 1;
};
SubmodelPoint place_in(const SubmodelMesh& grid, int column, int row, double X, double Z);

} // namespace hollowtop
