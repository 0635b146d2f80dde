// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a check tells of the seasons: bars that hold the wood back across the grain, as advice. How stiff a screw
/// sits and how wood relaxes is known from memory: `movement` judges it, a check fails no top by it.

#include "solver/checks/checks.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"

#include <array>
#include <span>

namespace hollowtop {

/// The rows that a check tells of the seasons, in words: of no situation, so no `judge` of theirs is in the table of checks.
std::span<const Check> table_of_season_rows();

/// Utilisation of each of table_of_season_rows(), of the bar that is worst in it; -1 where it does not apply.
std::array<double, 2> season_uses(const Piece& piece);

/// Adds those rows that apply, and warnings.
void tell_of_season(const Piece& piece, Result& result);

} // namespace hollowtop
