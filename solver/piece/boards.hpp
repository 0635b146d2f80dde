// SPDX-License-Identifier: MIT
#pragma once
/// \file  How the boards of a top lie beside one another: strips along the grain, the first at the edge
/// nearest the origin (y = 0 where the grain runs along x, x = 0 where it runs along y).

#include "solver/piece/piece.hpp"

#include <vector>

namespace hollowtop {

/// Unit direction across the grain in which the boards follow one another, y or else x growing.
Point across_boards(const Top& top);

/// How far the top's rectangle reaches across its grain, mm.
double extent_across(const Top& top);

/// The part of `extent_across` that a board takes, measured along across_boards() from the origin of the
/// drawing.
struct BoardStrip {
    double from = 0, to = 0;
    Measured measured{};     ///< of the board, else of the top
    bool of_its_own = false; ///< its modulus was measured on this board
};

/// The boards as they lie, their widths brought to the top's own where planing took some off; equal widths
/// where only a number is given; one board where nothing is.
std::vector<BoardStrip> board_strips(const Top& top);

} // namespace hollowtop
