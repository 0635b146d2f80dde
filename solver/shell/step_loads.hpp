// SPDX-License-Identifier: MIT
#pragma once
/// \file  Unit loads of the step's cross-section, as a beam would hand them over at its ends: see step_section.hpp.

#include "solver/shell/step_solver.hpp"

#include <vector>

namespace hollowtop {

/// They balance. Pull, moment, shear of the skin, and with a crack the shear of the part below it; or flow and twist along the wall.
std::vector<EdgeTraction> step_loads(const StepGrid& grid, const StepSection& step);

} // namespace hollowtop
