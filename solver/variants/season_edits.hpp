// SPDX-License-Identifier: MIT
#pragma once
/// \file  One thing of a piece changed that the seasons alone see: its finish, how its boards are laid. Each throws
/// Error(input), with the place, where there is nothing to change.

#include "solver/piece/piece.hpp"

#include <string>

namespace hollowtop {

/// Both faces and the recesses alike: an id in the table of finishes.
void set_finish(Piece& piece, const std::string& finish);

/// How boards with known rings are laid: all pith side up, all bark side up, or turn about, the first bark side up.
enum class Laid { pith_up, bark_up, alternating };
void lay_boards(Piece& piece, Laid laid);

} // namespace hollowtop
