// SPDX-License-Identifier: MIT
#pragma once
/// \file  The hand estimate beside every computed sag, and how far apart the two may lie.

#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"
#include "solver/situations/respond.hpp"

#include <vector>

namespace hollowtop {

/// The computed sag over the estimate lies between these, 1/sqrt(2) and sqrt(2), in the middle of a piece's
/// situations: established on random pieces and the examples (docs/method.md, "By hand";
/// tests/properties/hand_estimate_test.cpp). A size, a load or a modulus that is wrong by a factor of two in
/// one of the two theories moves every ratio out of it, wherever in it the ratio was.
inline constexpr double least_over_hand = 0.70710678, most_over_hand = 1.41421356;

/// One row a situation of `result`, whose order is that of `plans`. `n_before`: loads of the plans ahead of
/// the piece's own, the weight.
std::vector<HandEstimate> estimates_by_hand(const Piece& piece, const std::vector<SituationPlan>& plans,
                                            int n_before, const Result& result);

/// One warning where the two disagree in the middle (median) of the situations that have an estimate: a single
/// load that lies awkwardly for the beams tells nothing of the piece.
void warn_of_disagreement(Result& result);

} // namespace hollowtop
