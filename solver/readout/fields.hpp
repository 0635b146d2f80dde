// SPDX-License-Identifier: MIT
#pragma once
/// \file  Values all over the top for pictures and viewers: each cell cut into small quadrilaterals, those
/// off the top left out.

#include "solver/result/result.hpp"
#include "solver/situations/respond.hpp"

#include <vector>

namespace hollowtop {

/// Thickness; for each situation the downward movement relative to the supports and the face stresses along
/// and across the grain.
Fields sample_fields(const Model& model, const std::vector<SolvedSituation>& solved);

} // namespace hollowtop
