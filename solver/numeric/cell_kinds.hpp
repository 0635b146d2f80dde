// SPDX-License-Identifier: MIT
#pragma once
/// \file  The elimination of what lies inside a cell, done once for all cells that share an element matrix.

#include "solver/numeric/dissection.hpp"
#include "solver/numeric/grid_stiffness.hpp"

#include <vector>

namespace hollowtop {

/// An element whose inside is eliminated: one for each class, and one for each cell with a held dof inside.
struct CellKind {
    const double* element = nullptr;
    int size = 0;              ///< of the element
    std::vector<int> interior; ///< local dofs eliminated
    std::vector<int> border;   ///< element_border_dofs()
    int first_cell = -1;       ///< in Dissection::cells
    int n_users = 0;
    double* l = nullptr;
    long stride = 0;
    double* schur =
        nullptr; ///< full symmetric; of element_border_dofs(); null where the only user makes it when it is needed
};

struct CellKinds {
    std::vector<CellKind> kinds;
    std::vector<int> kind_of_cell; ///< one for each of Dissection::cells
};
/// Their places in memory are not filled in.
CellKinds kinds_of(const GridStiffness& stiffness, const Dissection& dissection);

/// Eliminates the inside of an element: its columns of the factor to kind.l, what is left to `schur` (full, the size of
/// kind.border squared). Returns -1 or which interior dof failed.
int condense(const CellKind& kind, double* schur);

} // namespace hollowtop
