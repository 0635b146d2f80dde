// SPDX-License-Identifier: MIT
#pragma once
/// \file  Numbers inside the sentences that say what is wrong with a piece.

#include "solver/piece/piece.hpp"

#include <string>

namespace hollowtop {

/// At most three decimals, no trailing zeros, no "-0": 45, 0.5, 12.125.
std::string plain(double value);
/// "45 mm".
std::string in_mm(double length);
/// "x 120, y 45.5".
std::string place_text(Point at);

} // namespace hollowtop
