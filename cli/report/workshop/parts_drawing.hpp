// SPDX-License-Identifier: MIT
#pragma once
/// \file  The stiffeners as parts of their own, 1:1 in DXF: the side that lies against the wood, with every hole
/// and slot, one part below the other. mm; the start of each at the left.

#include "cli/report/workshop/bench.hpp"
#include "solver/piece/piece.hpp"

#include <string>

namespace hollowtop::cli {

/// Throws Error(input) where the piece has no stiffener.
std::string parts_dxf(const Piece& piece, const Bench& bench, const std::string& title);

} // namespace hollowtop::cli
