// SPDX-License-Identifier: MIT
#pragma once
/// \file  What in a piece is possible and yet hardly meant, each with what it may be: warnings, never faults.

#include "materials/message.hpp"
#include "solver/piece/piece.hpp"

#include <vector>

namespace hollowtop {

/// In the order of the file. Bounds are judgement: what no furniture maker draws.
std::vector<Message> doubts_of(const Piece& piece);

} // namespace hollowtop
