// SPDX-License-Identifier: MIT
#include "materials/assert.hpp"
#include "solver/shell/dissection.hpp"
#include "solver/shell/factor.hpp"

#include <Eigen/Core>

#include <algorithm>

namespace hollowtop {

namespace {
constexpr int cells_at_a_time = 16; ///< of one class: one product in place of sixteen
}

void multiply(const GridStiffness& stiffness, std::span<const double> x, std::span<double> y) {
    const CellGrid& grid = stiffness.grid;
    HOLLOWTOP_ASSERT(x.size() == static_cast<std::size_t>(grid.n_dofs()) && y.size() == x.size());
    const int size = grid.element_size();
    std::vector<char> is_held(x.size(), 0);
    for (int dof : stiffness.held) is_held[dof] = 1;
    std::fill(y.begin(), y.end(), 0.0);

    std::vector<std::vector<int>> cells_of(stiffness.classes.size());
    for (int cell = 0; cell < grid.nx * grid.ny; ++cell)
        if (grid.active[cell]) cells_of[stiffness.cell_class[cell]].push_back(cell);

    Eigen::MatrixXd in(size, cells_at_a_time), out(size, cells_at_a_time);
    const int n_local =
        grid.dofs_per_node * (grid.order + 1); // dofs of one row of nodes of a cell: neighbours in the grid
    for (std::size_t c = 0; c < cells_of.size(); ++c) {
        const Eigen::Map<const Eigen::MatrixXd> element(stiffness.classes[c].data(), size, size);
        for (std::size_t first = 0; first < cells_of[c].size(); first += cells_at_a_time) {
            const int n =
                static_cast<int>(std::min<std::size_t>(cells_at_a_time, cells_of[c].size() - first));
            for (int k = 0; k < n; ++k)
                for (int b = 0; b <= grid.order; ++b) {
                    const int start = global_dof(grid, cells_of[c][first + k], b * n_local);
                    for (int i = 0; i < n_local; ++i)
                        in(b * n_local + i, k) = is_held[start + i] ? 0.0 : x[start + i];
                }
            if (n == 1)
                out.col(0).noalias() = element * in.col(0);
            else
                out.leftCols(n).noalias() = element * in.leftCols(n);
            for (int k = 0; k < n; ++k)
                for (int b = 0; b <= grid.order; ++b) {
                    const int start = global_dof(grid, cells_of[c][first + k], b * n_local);
                    for (int i = 0; i < n_local; ++i) y[start + i] += out(b * n_local + i, k);
                }
        }
    }
    for (int dof : stiffness.held) y[dof] = 0.0;
}

} // namespace hollowtop
