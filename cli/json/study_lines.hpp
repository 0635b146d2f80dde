// SPDX-License-Identifier: MIT
#pragma once
/// \file  Variants as lines of a file: CSV with a heading, or JSON with one object a line, after a line that says what
/// they were written for. A file of lines can be cut at any line, gone on with, and joined by plain concatenation.

#include "solver/seasons/season_numbers.hpp"
#include "solver/variants/row.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli {

/// What a file of variants was written for: its first line. Files of parts that were joined hold it once a part.
struct WrittenFor {
    std::string version;  ///< of the program
    std::string piece;    ///< sha256 of the piece file
    std::string mesh;     ///< as given, or "normal"
    std::string settings; ///< sha256 of what is varied, added and priced
    bool operator==(const WrittenFor&) const = default;
};
/// As comment of CSV: "# hollowtop 0.1.0, mesh normal, piece SHA256, settings SHA256". With line feed.
std::string csv_written_for(const WrittenFor& what);
/// As JSON object of the same keys, "hollowtop" for the version. With line feed.
std::string json_written_for(const WrittenFor& what);
/// Reads either; empty where the line is no such thing.
std::optional<WrittenFor> read_written_for(const std::string& line);
/// "the piece, the mesh and the version": in what two differ.
std::string differences(const WrittenFor& one, const WrittenFor& other);

struct VariantLine {
    std::uint64_t variant = 0;
    std::vector<std::string> choices; ///< one an axis, as labelled
    std::optional<StudyRow> row;      ///< absent where there is no such piece, or it could not be computed
    std::string problem;              ///< why
    std::optional<SeasonNumbers> seasons{}; ///< where asked for and known
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
