// SPDX-License-Identifier: MIT
#pragma once
/// \file  The loads and limits of a stated use, added to a piece.

#include "materials/message.hpp"
#include "solver/piece/piece.hpp"

#include <string>
#include <vector>

namespace hollowtop {

/// The piece with the loads of its use after its own, and the use's limits where the piece states none; the
/// piece itself where no use is stated. `use` is empty in what is returned. Throws Error(input) where the use
/// is not known.
Piece with_use(const Piece& piece);

/// What the use brought, each load with its source, in sentences for the report; empty where no use is
/// stated.
std::vector<Message> told_of_use(const Piece& piece);

} // namespace hollowtop
