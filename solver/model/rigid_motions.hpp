// SPDX-License-Identifier: MIT
#pragma once
/// \file  The rigid motions of a top that floats, and the dofs pinned so that its stiffness can be factored: once loads
/// and supports balance, the pins carry nothing.

#include "solver/shell/shell.hpp"

#include <vector>

namespace hollowtop {

/// Rigid motions of the shell that its held lines allow, at most six, each over all dofs; held dofs are 0 in them.
std::vector<std::vector<double>> free_rigid_motions(const Shell& shell);

/// Dofs whose pinning stops the given rigid motions, ascending. Throws Error(not_computable) where none would.
std::vector<int> pins_for(const Shell& shell, const std::vector<std::vector<double>>& rigid);

} // namespace hollowtop
