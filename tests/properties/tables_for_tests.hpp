// SPDX-License-Identifier: MIT
#pragma once
/// \file  Random tops as makers draw them: a use, an ordinary base, a board of some wood, hollowed or not.

#include "solver/piece/piece.hpp"

#include <cstdint>

namespace hollowtop {

/// The same seed gives the same piece. Many are sound, many are not.
Piece random_table(std::uint32_t seed);

} // namespace hollowtop
