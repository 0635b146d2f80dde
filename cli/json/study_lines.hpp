// SPDX-License-Identifier: MIT
#pragma once
/// \file  Variants as lines of a file: CSV with a heading, or JSON with one object a line. A file of lines
/// can be cut at any line, gone on with, and joined by plain concatenation.

#include "solver/variants/row.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli {

struct VariantLine {
    std::uint64_t variant = 0;
    std::vector<std::string> choices; ///< one an axis, as labelled
    std::optional<StudyRow> row;      ///< absent where there is no such piece, or it could not be computed
    std::string problem;              ///< why
};

/// "variant,depth,...": lengths in mm, masses in kg, "use: NAME" the utilisation of a check in its worst
/// situation. With line feed.
std::string csv_heading(const std::vector<std::string>& axes);
std::string csv_line(const VariantLine& line);

/// Reads what csv_line wrote; empty where the line is no such thing (cut off, of other axes).
std::optional<VariantLine> read_csv_line(const std::string& text, std::size_t n_axes);

/// One JSON object and a line feed; docs/compare.schema.json.
std::string json_line(const std::vector<std::string>& axes, const VariantLine& line);

} // namespace hollowtop::cli
