// SPDX-License-Identifier: MIT
#pragma once
/// \file  Numbers and sources inside the sentences that say where a value comes from.

#include "materials/duration.hpp"

#include <string>

namespace hollowtop::materials {

/// The number with at most `significant` digits, no trailing zeros, always with a point: 0.737, 12.6,
/// 105, 2.3.
std::string digits(double value, int significant = 3);

/// " (source, status)" for the end of a clause. How a source was checked is left to the table: only the
/// status is said.
std::string cited(const std::string& source, const std::string& status);
inline std::string cited(const Sourced& from) { return cited(in_own_units(from.source), from.status); }

} // namespace hollowtop::materials
