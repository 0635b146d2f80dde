// SPDX-License-Identifier: MIT
#pragma once
/// \file  Upward movements read from the shell's dofs at any point. `dofs` are those of the reference surface, mm.

#include "solver/numeric/quadrature.hpp"
#include "solver/shell/shell.hpp"

#include <array>
#include <span>

namespace hollowtop {

/// Upward movement w at one point as a linear form in the dofs: a form along x times a form along y, in one
/// cell.
struct MovementForm {
    int cell = -1; ///< -1: there is no top
    int leaf = -1; ///< as leaf_index_at()
    std::array<double, max_order + 1> x{}, y{};
};
MovementForm movement_form(const Shell& shell, Point point);
double movement_of(const Shell& shell, const MovementForm& form, std::span<const double> dofs);
/// The same from the upward movement of each node alone.
double movement_at_nodes(const Shell& shell, const MovementForm& form, std::span<const double> w);

/// Upward movement w at a point of the top; 0 where there is no top.
double movement_at(const Shell& shell, std::span<const double> dofs, Point point);

} // namespace hollowtop
