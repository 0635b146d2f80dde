// SPDX-License-Identifier: MIT
#pragma once
/// \file  Where to gauge a top before there are readings. mm.

#include "solver/piece/piece.hpp"

#include <string>
#include <vector>

namespace hollowtop {

/// Places to gauge before there are readings: each recess at its middle and corners and no further apart than 200 mm;
/// the rim at its corners and in the middle of its sides.
struct SheetPoint {
    std::string name; ///< "A1"
    int recess = -1;  ///< the rim: -1
    Point at;
};
std::vector<SheetPoint> sheet_points(const Piece& piece, double foot);

} // namespace hollowtop
