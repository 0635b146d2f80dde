// SPDX-License-Identifier: MIT
#pragma once
/// \file  One thing of a piece changed for its seasons: its finish, how its boards are laid, what its bars and ends
/// let move. Lengths in mm. Each throws Error(input), with the place, where there is nothing to change.

#include "solver/piece/piece.hpp"

#include <string>

namespace hollowtop {

/// Both faces and the recesses alike: an id in the table of finishes.
void set_finish(Piece& piece, const std::string& finish);

/// How boards with known rings are laid: all pith side up, all bark side up, or turn about, the first bark side up.
enum class Laid { pith_up, bark_up, alternating };
void lay_boards(Piece& piece, Laid laid);

/// Slots of that length over all in the stiffener of that name, or in all of them, whatever their holes were.
void set_slot_length(Piece& piece, const std::string& name, double length);

/// How deep the bar of that name, or every bar that slides in a groove, is let in.
void set_groove(Piece& piece, const std::string& name, double depth);

/// Breadboard ends of that width, the top as long as before with them; 0: none.
void set_ends(Piece& piece, double width);

} // namespace hollowtop
