// SPDX-License-Identifier: MIT
#include "solver/shell/movement_form.hpp"

namespace hollowtop {

MovementForm movement_form(const Shell& shell, Point point) {
    MovementForm form{.cell = cell_at(shell, point)};
    if (form.cell < 0) return form;
    form.leaf = leaf_index_at(shell, form.cell, point);
    const Cell& cell = shell.mesh.cells[static_cast<size_t>(form.cell)];
    form.x = lagrange_basis(shell.order, (point.x - cell.x0) * (2 / (cell.x1 - cell.x0)) - 1).value;
    form.y = lagrange_basis(shell.order, (point.y - cell.y0) * (2 / (cell.y1 - cell.y0)) - 1).value;
    return form;
}

namespace {

/// w(k) tells the upward movement of node k.
template <class Movement>
double movement_with(const Shell& shell, const MovementForm& form, const Movement& w) {
    if (form.cell < 0) return 0;
    const int p = shell.order;
    const CellNodes nodes = cell_nodes(shell, form.cell, form.leaf);
    double movement = 0;
    for (int b = 0; b <= p; ++b) {
        double along_x = 0;
        for (int a = 0; a <= p; ++a)
            along_x += form.x[static_cast<size_t>(a)] * w(static_cast<size_t>(nodes(a, b)));
        movement += form.y[static_cast<size_t>(b)] * along_x;
    }
    return movement;
}

} // namespace

double movement_of(const Shell& shell, const MovementForm& form, std::span<const double> dofs) {
    return movement_with(shell, form, [&](size_t node) { return dofs[node * dofs_per_node + 2]; });
}

double movement_at_nodes(const Shell& shell, const MovementForm& form, std::span<const double> w) {
    return movement_with(shell, form, [&](size_t node) { return w[node]; });
}

double movement_at(const Shell& shell, std::span<const double> dofs, Point point) {
    return movement_of(shell, movement_form(shell, point), dofs);
}

} // namespace hollowtop
