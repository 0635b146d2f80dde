// SPDX-License-Identifier: MIT
#pragma once
/// \file  The section on the first two years, for a piece that says something of them: how it is finished, when it moves
/// in, whence, its air by the month, how its boards lie. Used by report.cpp only.

#include "cli/report/sections/report_parts.hpp"

namespace hollowtop::cli {

bool says_of_its_years(const Piece& piece);
/// Follows the years, which costs a second or two.
Markup year_section(const Sheet& sheet);

} // namespace hollowtop::cli
