// SPDX-License-Identifier: MIT
#pragma once
/// \file  What stiffeners and their screws do, from the solved situations: forces, stresses, slip, and what
/// they are worth.

#include "solver/result/response.hpp"
#include "solver/result/result.hpp"
#include "solver/situations/respond.hpp"

#include <vector>

namespace hollowtop {

/// Forces of stiffeners and screws, one list a situation; fills SituationResponse::stiffeners and ::screws.
void gather_bars(const Piece& piece, const Model& model, const std::vector<SolvedSituation>& solved,
                 Response& response);

/// The same for one situation.
void gather_bars_of(const Piece& piece, const Model& model, const SolvedSituation& solved,
                    SituationResponse& response);

/// Sag without stiffeners, with them, and were they glued all along, in the situation with the greatest sag
/// at once; and each stiffener's composite action there. `sag_mm` are those of the situations.
struct StiffeningAnswer {
    Stiffening stiffening;
    std::vector<double> composite_action; ///< one a stiffener
};
StiffeningAnswer stiffening_of(const Piece& piece, const Model& model,
                               const std::vector<SolvedSituation>& solved, const Response& response);

} // namespace hollowtop
