// SPDX-License-Identifier: MIT
#pragma once
/// \file  Thickness readings as makers write them down: a list in a text file or a spreadsheet (CSV), or JSON.
/// CSV: x, y, thickness a line, parted by commas, semicolons, tabs or blanks; decimal commas where commas do not part;
/// blank lines and lines that start with # are passed over; a heading may name the columns, in any of the languages of
/// the table in readings.cpp, and their units: "x (mm)", "Dicke [mm]". A value may carry its own unit: "11/16 in".
/// JSON: a list of [x, y, thickness] or of {"x", "y", "thickness", "uncertainty"}, or {"units", "gauge", "readings"}.

#include "solver/survey/reading.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {

struct ReadingsFile {
    std::vector<Reading> readings;
    std::optional<double> gauge_sd; ///< mm, where the file states it
    std::vector<std::string> notes; ///< how it was read, where that is not plain
};

/// What a number without a unit is: "mm", "cm", "in". Throws Error(input) for any other word.
double mm_of_unit(std::string_view word);

/// `mm`: what a number is that has no unit beside it. Throws Error(input) with every line that cannot be read.
ReadingsFile readings_of(std::string_view text, double mm);

} // namespace hollowtop::cli
