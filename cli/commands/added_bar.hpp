// SPDX-License-Identifier: MIT
#pragma once
/// \file  A stiffener as it is typed behind "--add", so that no piece file has to be edited for a first look:
///
///     angle 30x30x3 at y=350 screws 4.5x15
///     bar 40x20 wood ash at x=600 from 100 to 700 screws 5x45 every 120 holes round
///     flat 40x6 metal 6060-T66 at y=350 glued
///
/// The section comes first, the rest in any order. Without "from ... to ..." it runs through what it lies
/// under, its recess or the top, up to 25 mm from the ends; steel S235, a screw every 150 mm, slotted, where
/// nothing else is said. Lengths without a unit are in the units of the piece, sections in mm.

#include "solver/piece/piece.hpp"

#include <string>

namespace hollowtop::cli {

/// Adds it to the piece. Throws Error(input), with `--add` as its place, where it cannot be understood.
void add_bar(Piece& piece, const std::string& text);

} // namespace hollowtop::cli
