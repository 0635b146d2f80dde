// SPDX-License-Identifier: MIT
#pragma once
/// \file  Loads that travel ("at": "worst") set down where they do most harm (position_search.hpp). The places
/// found become loads like any other, each with its own situation, computed and judged as finely as those.

#include "solver/capacity/allowables.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/response.hpp"
#include "solver/result/result.hpp"

#include <vector>

namespace hollowtop {

struct WorstPositions {
    Piece piece; ///< each travelling load replaced by loads at its worst places; `found_at` says where
    std::vector<Travel> travels;
    std::vector<TippedPosition> tipped;
};

/// Throws Error(input) where a load fits nowhere, Error(not_computable) where the top tips wherever the load
/// lies. `kept`, of the pieces before, may be missing.
WorstPositions with_worst_positions(const Piece& piece, int threads, KeptAllowables* kept = nullptr);

} // namespace hollowtop
