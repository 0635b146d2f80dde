// SPDX-License-Identifier: MIT
#pragma once
/// \file  The order in which the grid's unknowns are eliminated: geometric nested dissection, no numbers.
///
/// A region of cells is cut in two along its longer side until it is a small block. A node belongs to the
/// smallest region that holds all active cells around it, and is eliminated there:
///
///      +---------o---------+      o  nodes of the cut: they belong to the whole region
///      |         o         |      .  nodes inside one half (or on the outline beside it): to that half
///      |   .     o     .   |      +  nodes shared with what lies outside the region: the region's border
///      +---------o---------+
///
/// The nodes inside a cell are eliminated in the cell. A region's own nodes and its border make up its front;
/// the fronts are a forest (one tree a connected piece of the top), listed children before parents.
/// "Position" is the rank of a free dof in the order of elimination; held dofs and dofs of nodes no active
/// cell touches have none (-1).
/// Source: George, Nested dissection of a regular finite element mesh, SIAM J. Numer. Anal. 10 (1973).

#include "solver/numeric/grid_stiffness.hpp"

#include <vector>

namespace hollowtop {

struct Dissection {
    struct Cell {
        int index = 0;          ///< cell of the grid
        int first_interior = 0; ///< positions of the free dofs inside the cell: from here ...
        int n_interior = 0;     ///< ... this many
        int border = 0; ///< start in `border_positions` of element_border_dofs() entries, -1 where held
        int n_border = 0;
    };
    struct Front {
        int first_own = 0, n_own = 0;        ///< positions eliminated here
        int border = 0, n_border = 0;        ///< in `border_positions`, ascending
        int first_cell = 0, n_cells = 0;     ///< in `cells`: the cells assembled straight into this front
        int first_child = 0, n_children = 0; ///< in `children`
        int parent = -1;
        int subtree = 0; ///< first front of the subtree, which is the fronts subtree .. this one

        int size() const { return n_own + n_border; }
    };
    std::vector<Cell> cells;
    std::vector<Front> fronts;
    std::vector<int> children;
    std::vector<int> border_positions;
    std::vector<int> dof_at;      ///< position -> dof
    std::vector<int> position_of; ///< dof -> position or -1

    int n_free() const { return static_cast<int>(dof_at.size()); }
};

Dissection dissect(const CellGrid& grid, const std::vector<int>& held);

} // namespace hollowtop
