// SPDX-License-Identifier: MIT
#pragma once
/// \file  The shell of a top from its thickness at every place and the lines that hold it.

#include "solver/shell/shell.hpp"

#include <vector>

namespace hollowtop {

/// Mesh, sections and element matrices; nothing is factored yet.
Shell make_shell(const PlaneStiffness& plane, const ThicknessField& field, const MeshWishes& wishes,
                 const std::vector<HeldLine>& held, const ShellOptions& options);

} // namespace hollowtop
