// SPDX-License-Identifier: MIT
#include "solver/numeric/cell_kinds.hpp"

#include "solver/numeric/front_kernels.hpp"

#include <algorithm>
#include <utility>

namespace hollowtop {

CellKinds kinds_of(const GridStiffness& stiffness, const Dissection& dissection) {
    CellKinds sorted;
    const CellGrid& grid = stiffness.grid;
    std::vector<int> n_inside_of_class(stiffness.classes.size(), -1);
    std::vector<int> kind_of_class(stiffness.classes.size(), -1);
    for (std::size_t c = 0; c < dissection.cells.size(); ++c) {
        const Dissection::Cell& cell = dissection.cells[c];
        const int element_class = stiffness.cell_class[cell.index];
        int& n_inside = n_inside_of_class[element_class];
        if (n_inside < 0) n_inside = static_cast<int>(element_interior_dofs(grid, cell.index).size());
        const bool held_inside = cell.n_interior != n_inside;
        int kind = held_inside ? -1 : kind_of_class[element_class];
        if (kind < 0) {
            kind = static_cast<int>(sorted.kinds.size());
            CellKind entry;
            entry.element = stiffness.classes[element_class].data();
            entry.first_cell = static_cast<int>(c);
            entry.size = grid.element_size(cell.index);
            entry.border = element_border_dofs(grid, cell.index);
            for (int local : element_interior_dofs(grid, cell.index))
                if (dissection.position_of[global_dof(grid, cell.index, local)] >= 0)
                    entry.interior.push_back(local);
            sorted.kinds.push_back(std::move(entry));
            if (!held_inside) kind_of_class[element_class] = kind;
        }
        ++sorted.kinds[kind].n_users;
        sorted.kind_of_cell.push_back(kind);
    }
    return sorted;
}

int condense(const CellKind& kind, double* schur) {
    const std::vector<int>& border = kind.border;
    const int size = kind.size, n_own = static_cast<int>(kind.interior.size()),
              nb = static_cast<int>(border.size());
    std::fill_n(kind.l, static_cast<std::size_t>(kind.stride) * n_own, 0.0);
    for (int j = 0; j < n_own; ++j) {
        const double* from = kind.element + static_cast<std::size_t>(kind.interior[j]) * size;
        double* to = kind.l + j * kind.stride;
        for (int i = j; i < n_own; ++i) to[i] = from[kind.interior[i]];
        for (int i = 0; i < nb; ++i) to[n_own + i] = from[border[i]];
    }
    for (int j = 0; j < nb; ++j) {
        const double* from = kind.element + static_cast<std::size_t>(border[j]) * size;
        for (int i = j; i < nb; ++i) schur[j * nb + i] = from[border[i]];
    }
    if (n_own > 0) {
        if (const int failed = factor_columns(kind.l, kind.stride, n_own + nb, n_own); failed >= 0)
            return failed;
        update_border(schur, nb, kind.l + n_own, kind.stride, nb, n_own);
    }
    for (int j = 0; j < nb; ++j)
        for (int i = 0; i < j; ++i) schur[j * nb + i] = schur[i * nb + j];
    return -1;
}

} // namespace hollowtop
