// SPDX-License-Identifier: MIT
#include "solver/numeric/grid_stiffness.hpp"

#include "materials/assert.hpp"

#include <Eigen/Core>

#include <algorithm>

namespace hollowtop {

namespace {
constexpr std::size_t at_a_time = 48; ///< cells and columns of one class: one product in place of as many

std::vector<int> element_dofs(const CellGrid& grid, int cell, bool inside) {
    std::vector<int> dofs;
    const int p = grid.order, count = grid.element_nodes(cell);
    for (int k = 0; k < count; ++k) {
        const int place = grid.place_of(global_dof(grid, cell, k * grid.dofs_per_node) / grid.dofs_per_node);
        const bool interior = place % grid.nodes_x() % p != 0 && place / grid.nodes_x() % p != 0;
        if (interior != inside) continue;
        for (int c = 0; c < grid.dofs_per_node; ++c) dofs.push_back(k * grid.dofs_per_node + c);
    }
    return dofs;
}

} // namespace

std::vector<int> element_border_dofs(const CellGrid& grid, int cell) {
    return element_dofs(grid, cell, false);
}

std::vector<int> element_interior_dofs(const CellGrid& grid, int cell) {
    return element_dofs(grid, cell, true);
}

int global_dof(const CellGrid& grid, int cell, int local_dof) {
    const int p = grid.order, local_node = local_dof / grid.dofs_per_node,
              component = local_dof % grid.dofs_per_node;
    if (grid.has_own_nodes(cell))
        return grid.cell_nodes[static_cast<std::size_t>(cell)][static_cast<std::size_t>(local_node)] *
                   grid.dofs_per_node +
               component;
    const int ix = cell % grid.nx * p + local_node % (p + 1);
    const int iy = cell / grid.nx * p + local_node / (p + 1);
    return (iy * grid.nodes_x() + ix) * grid.dofs_per_node + component;
}

void multiply(const GridStiffness& stiffness, std::span<const double> x, std::span<double> y, int count) {
    const CellGrid& grid = stiffness.grid;
    const auto n = static_cast<std::size_t>(grid.n_dofs()), columns = static_cast<std::size_t>(count);
    HOLLOWTOP_ASSERT(x.size() == n * columns && y.size() == x.size());
    std::vector<char> is_held(n, 0);
    for (int dof : stiffness.held) is_held[dof] = 1;
    std::fill(y.begin(), y.end(), 0.0);

    std::vector<std::vector<int>> cells_of(stiffness.classes.size());
    std::vector<int> with_own_nodes;
    for (int cell = 0; cell < grid.nx * grid.ny; ++cell) {
        if (!grid.active[cell]) continue;
        if (grid.has_own_nodes(cell))
            with_own_nodes.push_back(cell);
        else
            cells_of[stiffness.cell_class[cell]].push_back(cell);
    }

    const int size = grid.element_size();
    Eigen::MatrixXd in(size, at_a_time), out(size, at_a_time);
    const int n_local =
        grid.dofs_per_node * (grid.order + 1); // dofs of one row of nodes of a cell: neighbours in the grid
    for (std::size_t c = 0; c < cells_of.size(); ++c) {
        const Eigen::Map<const Eigen::MatrixXd> element(stiffness.classes[c].data(), size, size);
        const std::size_t all = cells_of[c].size() * columns; // cell by cell, each in every column
        for (std::size_t first = 0; first < all; first += at_a_time) {
            const auto together = static_cast<int>(std::min(at_a_time, all - first));
            const auto each_row =
                [&](const auto& see) { // see(k, row of nodes, first dof of it, its column's shift)
                    for (int k = 0; k < together; ++k) {
                        const std::size_t item = first + static_cast<std::size_t>(k);
                        for (int b = 0; b <= grid.order; ++b)
                            see(k, b * n_local, global_dof(grid, cells_of[c][item / columns], b * n_local),
                                item % columns * n);
                    }
                };
            each_row([&](int k, int row, int start, std::size_t shift) {
                const double* from = x.data() + shift + start;
                double* to = &in(row, k);
                for (int i = 0; i < n_local; ++i) to[i] = is_held[start + i] ? 0.0 : from[i];
            });
            if (together == 1)
                out.col(0).noalias() = element * in.col(0);
            else
                out.leftCols(together).noalias() = element * in.leftCols(together);
            each_row([&](int k, int row, int start, std::size_t shift) {
                double* to = y.data() + shift + start;
                const double* from = &out(row, k);
                for (int i = 0; i < n_local; ++i) to[i] += from[i];
            });
        }
    }
    Eigen::MatrixXd own_in, own_out;
    for (const int cell : with_own_nodes) {
        const int own_size = grid.element_size(cell);
        const Eigen::Map<const Eigen::MatrixXd> element(stiffness.classes[stiffness.cell_class[cell]].data(),
                                                        own_size, own_size);
        own_in.resize(own_size, count);
        own_out.resize(own_size, count);
        for (int k = 0; k < own_size; ++k) {
            const int dof = global_dof(grid, cell, k);
            for (std::size_t q = 0; q < columns; ++q)
                own_in(k, static_cast<Eigen::Index>(q)) =
                    is_held[dof] ? 0.0 : x[q * n + static_cast<std::size_t>(dof)];
        }
        own_out.noalias() = element * own_in;
        for (int k = 0; k < own_size; ++k)
            for (std::size_t q = 0; q < columns; ++q)
                y[q * n + static_cast<std::size_t>(global_dof(grid, cell, k))] +=
                    own_out(k, static_cast<Eigen::Index>(q));
    }
    for (std::size_t q = 0; q < columns; ++q)
        for (int dof : stiffness.held) y[q * n + static_cast<std::size_t>(dof)] = 0.0;
}

} // namespace hollowtop
