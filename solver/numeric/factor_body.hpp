// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a Factor keeps: its columns, and which unknowns they couple. Written by factor.cpp, read by
/// factor_solve.cpp.

#include "solver/numeric/arena.hpp"

#include <vector>

namespace hollowtop {

/// Columns of the factor that are eliminated together: the inside of a cell, or a front's own dofs.
struct FactorBlock {
    const double* l = nullptr; ///< own rows, then border rows; cells of one kind share it
    long stride = 0;
    int first_own = 0, n_own = 0; ///< positions
    int border = 0, n_border = 0; ///< in `border_positions`; -1 there: a held dof
    int parent = -1;              ///< the block that owns the first position of the border
};

struct FactorBody {
    int n_dofs = 0;
    int threads = 1;
    std::vector<int> dof_at;      ///< position -> dof
    std::vector<int> position_of; ///< dof -> position or -1
    std::vector<int> border_positions;
    std::vector<int>
        border_rows; ///< the same for whoever needs a row for held dofs too: n_free(), past all positions
    std::vector<FactorBlock> blocks; ///< in the order of their positions, so children before parents
    std::vector<int> block_of;       ///< position -> block
    Arena memory;
    double flops = 0; ///< of the factorisation

    int n_free() const { return static_cast<int>(dof_at.size()); }
};

} // namespace hollowtop
