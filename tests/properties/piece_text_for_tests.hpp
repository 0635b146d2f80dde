// SPDX-License-Identifier: MIT
#pragma once
/// \file  Random piece files: every kind of part, slivers, thin ribs and crowds of parts, in mm or in inches.

#include "solver/piece/piece.hpp"

#include <cstdint>
#include <string>

namespace hollowtop {

enum class Crowd { few, many };

/// The text of an invented piece file. The same seed gives the same piece in either unit, to the last digits of a double. Most make
/// sense; some are refused, for parts are laid out by chance. `many`: up to some hundred parts of a kind.
std::string random_piece_text(std::uint32_t seed, Units units, Crowd crowd = Crowd::few);

} // namespace hollowtop
