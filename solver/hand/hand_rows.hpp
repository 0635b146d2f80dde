// SPDX-License-Identifier: MIT
#pragma once
/// \file  The hand estimate beside every computed sag, and how far apart the two may lie.

#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"
#include "solver/situations/respond.hpp"

#include <vector>

namespace hollowtop {

/// The computed sag over the estimate lies between these: established on random pieces and the examples
/// (docs/method.md, "By hand"; tests/properties/hand_estimate_test.cpp).
inline constexpr double least_over_hand = 0.75, most_over_hand = 1.35;

/// One row a situation of `result`, whose order is that of `plans`. `n_before`: loads of the plans ahead of
/// the piece's own, the weight.
std::vector<HandEstimate> estimates_by_hand(const Piece& piece, const std::vector<SituationPlan>& plans,
                                            int n_before, const Result& result);

/// A warning for each row in which the two disagree.
void warn_of_disagreement(Result& result);

} // namespace hollowtop
