// SPDX-License-Identifier: MIT
#pragma once
/// \file  The solve of the wall submodel on its grid: numbering, assembly, elimination, the movements
/// of every cell.
/// Inner dofs of a cell are condensed; the rest is factored column by column from the skin's end (dense
/// Cholesky). The loads balance, so what stops the rigid motions carries nothing. Units: N, mm, MPa.

#include "solver/section/submodel_mesh.hpp"

#include <array>
#include <functional>
#include <span>
#include <vector>

namespace hollowtop {

/// Loads on a column's left or right edge, from the lowest row up to `rows` (0: all); x and z component a
/// unit of height, by load.
struct EdgeTraction {
    int column = 0;
    bool at_right = false;
    int rows = 0;
    std::function<std::array<PerLoad, 2>(double z)> at;
};

struct SubmodelSolution {
    int n_dofs = 0;
    std::array<PerLoad, n_submodel_loads> work{}; ///< of each load with the movements of each
    int n_rows = 0;
    std::vector<std::vector<double>>
        cells; ///< movements of each cell, n_dofs of a cell x n_submodel_loads; empty where none is

    std::span<const double> movements(int column, int row) const {
        return cells[static_cast<size_t>(column * n_rows + row)];
    }
};

/// Throws Error(not_computable) where the stiffness is not positive definite.
SubmodelSolution solve_on(const SubmodelMesh& grid, const SubmodelSection& section,
                          const std::vector<EdgeTraction>& tractions);

} // namespace hollowtop
