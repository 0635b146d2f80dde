// SPDX-License-Identifier: MIT
#pragma once
/// \file  The piece with its standing loads alone on a coarse mesh, and where that is read: what a search for
/// worst places asks again and again.

#include "solver/model/model.hpp"
#include "solver/piece/piece.hpp"
#include "solver/readout/gather.hpp"
#include "solver/result/response.hpp"
#include "solver/situations/load_positions.hpp"

#include <memory>
#include <vector>

namespace hollowtop {

struct CoarseTop {
    Piece piece;
    int threads;
    bool has_stability;
    std::shared_ptr<const Model> model;
    LoadPositionSolver solver;
    std::vector<StrainMean> means;
    DishGrid dish;                ///< at most 200 points
    std::vector<WallPoint> walls; ///< at most 70
    TensionPoints tension;
    KeptSpans spans;
    Response base{}; ///< of what checks read besides the situation: nothing

    /// Throws Error(not_computable) as make_model.
    CoarseTop(const Piece& standing, int n_threads, bool stability);
};

/// `has_stability`: the piece has loads for stability, so that those for strength do not count for tipping.
/// Throws Error(not_computable) as make_model.
std::shared_ptr<const CoarseTop> coarse_top(const Piece& standing, int threads, bool has_stability = false);

} // namespace hollowtop
