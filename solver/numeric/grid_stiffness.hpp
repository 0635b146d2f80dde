// SPDX-License-Identifier: MIT
#pragma once
/// \file  A stiffness on a tensor grid of elements, kept as element matrices: what is factored, and multiplied with.
///
/// The grid has nx x ny cells of order p; neighbouring cells share the nodes on their common edge, so it has
/// (nx p + 1) x (ny p + 1) nodes. Units: those of the element matrices (N, mm).

#include <span>
#include <vector>

namespace hollowtop {

/// Node (ix, iy) has index iy * (nx * order + 1) + ix; its dofs are node * dofs_per_node +
/// 0..dofs_per_node-1.
struct CellGrid {
    int nx = 0, ny = 0, order = 3;
    int dofs_per_node = 5;
    std::vector<char> active; ///< one a cell, index j * nx + i; cells outside the outline are not active

    int nodes_x() const { return nx * order + 1; }
    int nodes_y() const { return ny * order + 1; }
    int n_dofs() const { return nodes_x() * nodes_y() * dofs_per_node; }
    int element_size() const { return (order + 1) * (order + 1) * dofs_per_node; }
};

/// The stiffness as element matrices, kept once per distinct element.
struct GridStiffness {
    CellGrid grid;
    std::vector<int>
        cell_class; ///< one a cell: which of `classes` it uses; ignored where the cell is not active
    /// Full symmetric element matrices, element_size() squared, column-major. Local node (a, b), a along x,
    /// is b*(order+1)+a; local dof is local node * dofs_per_node + component.
    std::vector<std::vector<double>> classes;
    std::vector<int> held; ///< global dofs that are held at zero
};

/// y = K x over the free dofs (entries at held dofs and at nodes no active cell touches are taken as and left
/// at zero), for `count` columns one after another.
void multiply(const GridStiffness& stiffness, std::span<const double> x, std::span<double> y, int count = 1);

/// Local dofs of an element on its border, and those inside, both ascending.
std::vector<int> element_border_dofs(const CellGrid& grid);
std::vector<int> element_interior_dofs(const CellGrid& grid);

/// Global dof of an element's local dof.
int global_dof(const CellGrid& grid, int cell, int local_dof);

} // namespace hollowtop
