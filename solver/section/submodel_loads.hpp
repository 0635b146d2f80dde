// SPDX-License-Identifier: MIT
#pragma once
/// \file  Unit loads of the wall submodel, as a beam would hand them over at its ends: see
/// submodel_section.hpp.

#include "solver/section/submodel_solver.hpp"

#include <vector>

namespace hollowtop {

/// They balance. Pull, moment, shear of the skin, and with a crack the shear of the part below it; or flow
/// and twist along the wall.
std::vector<EdgeTraction> submodel_loads(const SubmodelMesh& grid, const SubmodelSection& section);

} // namespace hollowtop
