// SPDX-License-Identifier: MIT
#pragma once
/// \file  Numbers inside the sentences that say where a value comes from.

#include <string>

namespace hollowtop::materials {

/// The number with at most `significant` digits, no trailing zeros, always with a point: 0.737, 12.6, 105, 2.3.
std::string digits(double value, int significant = 3);

} // namespace hollowtop::materials
