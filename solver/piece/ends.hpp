// SPDX-License-Identifier: MIT
#pragma once
/// \file  Breadboard ends as they lie: a board across each end that the top's grain runs into.
///
///      +--+-----------------+--+
///      |  =                 =  |    = tongue; the end is fixed to it in its middle and lets it move past elsewhere
///      |  =     grain ->    =  |
///      +--+-----------------+--+    Top::length counts both ends in
///
/// mm.

#include "solver/piece/piece.hpp"

#include <array>
#include <vector>

namespace hollowtop {

struct EndBoard {
    Rectangle band;     ///< in plan
    Point from{}, to{}; ///< its middle line
};

/// Of a rectangular top whose grain runs along a side; `piece.ends` is given.
std::array<EndBoard, 2> end_boards(const Piece& piece);

/// Whether the outline is a rectangle and the grain runs along one of its sides.
bool may_have_ends(const Top& top);

/// Distances of an end's pegs from its middle, which one of them is at where their number is odd.
std::vector<double> peg_places(const Ends& ends, double length);

} // namespace hollowtop
