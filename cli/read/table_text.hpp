// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the readers of measured tables share (readings, gauge_readings, load_readings): lines and cells of a text
/// that any program in any country may have written. What the columns mean is each reader's own.

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {

/// Beyond these somebody slipped; the piece file has the same bounds.
inline constexpr double longest_measured_mm = 1e5, heaviest_measured_N = 1e7;

struct TableLine {
    std::size_t number = 0; ///< from 1, as an editor counts
    std::string text{};     ///< without blanks at its ends; tabs that part empty cells stay
};

/// The lines that hold something: not those that start with "#", nor rows of nothing but separators and empty quotes. They
/// end with a line feed, a carriage return or both; a mark of the byte order before all is passed over.
std::vector<TableLine> table_lines(std::string_view text);

/// The cells of a line, as they stand: what a pair of quotes holds is one cell, whatever is in it (RFC 4180, 2.6).
std::vector<std::string> cells_parted(std::string_view line, char at);

/// Without blanks at its ends.
std::string_view without_blanks(std::string_view text);

/// Without blanks, and without the quotes that a table puts around it (RFC 4180, 2.5 to 2.7); a mark of inches stays.
std::string cell_text(std::string_view cell);

} // namespace hollowtop::cli
