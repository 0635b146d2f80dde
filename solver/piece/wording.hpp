// SPDX-License-Identifier: MIT
#pragma once
/// \file  Lengths and places in the sentences about a piece.

#include "materials/message.hpp"
#include "solver/piece/piece.hpp"

#include <string>

namespace hollowtop {

/// At most three decimals, no trailing zeros, no "-0": 45, 0.5, 12.125.
std::string plain(double value);
/// "45 mm".
Message in_mm(double length);
/// "90 x 45 mm".
Message sizes(double one, double other);
/// "x 120, y 45.5".
Message place_text(Point at);
/// "at x 950, y 60 mm": where a load that travels was set down.
Message place_words(Point at, Units units);
/// Its name, and the place where it was set down.
Message name_of(const Load& load, Units units);

} // namespace hollowtop
