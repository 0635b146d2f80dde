// SPDX-License-Identifier: MIT
#pragma once
/// \file  What each support carries and how hard it presses, from the forces at its tiles (docs/method.md,
/// supports).

#include "solver/model/model.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/response.hpp"
#include "solver/situations/respond.hpp"

#include <vector>

namespace hollowtop {

/// One a support of the piece, in its order: force upward on the top, N, and the greatest mean pressure near an
/// edge of what presses, MPa.
std::vector<SupportForce> support_forces(const Piece& piece, const Model& model, const SolvedSituation& s);

} // namespace hollowtop
