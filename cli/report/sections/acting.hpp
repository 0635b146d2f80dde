// SPDX-License-Identifier: MIT
#pragma once
/// \file  Which loads act in each situation, taken from the situations' names as the solver makes them
/// (solver/situations/situations.hpp): what stays acts in all; "{} together" and "{}, with {}" name the others.

#include "cli/words/quantity.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"

#include <string>
#include <vector>

namespace hollowtop::cli {

/// Names of the loads in each situation, what stays first. Empty where the loads so found do not add up to what
/// the situations say is applied: then it is better not told.
std::vector<std::vector<std::string>> acting_loads(const Piece& piece, const Result& result, Units units);

} // namespace hollowtop::cli
