// SPDX-License-Identifier: MIT
#pragma once
/// \file  On which parts of its supports a top rests.

#include "solver/mesh/thickness_field.hpp"
#include "solver/piece/piece.hpp"

#include <vector>

namespace hollowtop {

/// Does the pad stand under the middle of a rail, and so carry it in place of the top? A pad at a rail's end
/// is the leg's own top, flush with the rail: it carries the top.
bool stands_under(const Pad& pad, Point from, Point to, double width);

/// Does it so for any of the piece's rails?
bool carries_a_rail(const Piece& piece, const Pad& pad);

/// The supports as far as the top rests on them: of bearers and rails that run under a recess the stretches
/// at full thickness, by their middle lines; without pads that lie wholly under one. All of them where
/// nothing would be left.
std::vector<Support> parts_that_bear(const Piece& piece, const ThicknessField& field);

} // namespace hollowtop
