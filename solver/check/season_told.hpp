// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a check tells of the seasons: bars that hold the wood back across the grain, as advice. How stiff a screw
/// sits and how wood relaxes is known from memory: `movement` judges it, a check fails no top by it.

#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"

namespace hollowtop {

/// Adds the rows "held across the grain" and "screws in the season", of the bar that is worst in each, and warnings.
void tell_of_season(const Piece& piece, Result& result);

} // namespace hollowtop
