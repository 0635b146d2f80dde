// SPDX-License-Identifier: MIT
#pragma once
/// \file  A stiffness on a tensor grid of elements, kept as element matrices: what is factored, and multiplied with.
///
/// The grid has nx x ny cells of order p; neighbouring cells share the nodes on their common edge, so it has
/// (nx p + 1) x (ny p + 1) nodes. Where a cell holds several fields there are more nodes at one place, numbered
/// after the grid's own. Units: those of the element matrices (N, mm).

#include <cstddef>
#include <span>
#include <vector>

namespace hollowtop {

/// Node (ix, iy) has index iy * (nx * order + 1) + ix; its dofs are node * dofs_per_node +
/// 0..dofs_per_node-1.
struct CellGrid {
    int nx = 0, ny = 0, order = 3;
    int dofs_per_node = 5;
    std::vector<char> active;      ///< one a cell, index j * nx + i; cells outside the outline are not active
    std::vector<int> more_nodes{}; ///< of each node past the grid's own, the node of the grid at its place
    /// Of each cell the nodes of its element where they are not its own of the grid, each once; else empty. No list at
    /// all where no cell has any.
    std::vector<std::vector<int>> cell_nodes{};

    int nodes_x() const { return nx * order + 1; }
    int nodes_y() const { return ny * order + 1; }
    int n_grid_nodes() const { return nodes_x() * nodes_y(); }
    int n_nodes() const { return n_grid_nodes() + static_cast<int>(more_nodes.size()); }
    int n_dofs() const { return n_nodes() * dofs_per_node; }
    /// The node of the grid at a node's place.
    int place_of(int node) const {
        const int own = n_grid_nodes();
        return node < own ? node : more_nodes[static_cast<std::size_t>(node - own)];
    }
    bool has_own_nodes(int cell) const {
        return !cell_nodes.empty() && !cell_nodes[static_cast<std::size_t>(cell)].empty();
    }
    int element_nodes(int cell) const {
        return has_own_nodes(cell) ? static_cast<int>(cell_nodes[static_cast<std::size_t>(cell)].size())
                                   : (order + 1) * (order + 1);
    }
    int element_size(int cell) const { return element_nodes(cell) * dofs_per_node; }
    /// Of a cell with the grid's own nodes.
    int element_size() const { return (order + 1) * (order + 1) * dofs_per_node; }
};

/// The stiffness as element matrices, kept once per distinct element.
struct GridStiffness {
    CellGrid grid;
    std::vector<int>
        cell_class; ///< one a cell: which of `classes` it uses; ignored where the cell is not active
    /// Full symmetric element matrices, element_size(cell) squared, column-major. Local node (a, b), a along x,
    /// is b*(order+1)+a, or the place in the cell's list; local dof is local node * dofs_per_node + component.
    /// Cells of one class have lists alike in which of their nodes lie inside.
    std::vector<std::vector<double>> classes;
    std::vector<int> held; ///< global dofs that are held at zero
};

/// y = K x over the free dofs (entries at held dofs and at nodes no active cell touches are taken as and left
/// at zero), for `count` columns one after another.
void multiply(const GridStiffness& stiffness, std::span<const double> x, std::span<double> y, int count = 1);

/// Local dofs of an element on its border, and those inside, both ascending.
std::vector<int> element_border_dofs(const CellGrid& grid, int cell);
std::vector<int> element_interior_dofs(const CellGrid& grid, int cell);

/// Global dof of an element's local dof.
int global_dof(const CellGrid& grid, int cell, int local_dof);

} // namespace hollowtop
