// SPDX-License-Identifier: MIT
#pragma once
/// \file  The report for a client piece: one HTML page that needs nothing else, neither network nor script.
/// From the same input it comes out the same, byte for byte; it holds no date but the one that was given.

#include "cli/report/asked.hpp"
#include "cli/report/html.hpp"
#include "cli/result_json.hpp"
#include "solver/analysis/result.hpp"
#include "solver/piece/piece.hpp"
#include "solver/study/row.hpp"
#include "solver/study/seasons.hpp"
#include "validation/run_cases.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli {

/// A variant of the piece: what was chosen of each thing that was varied, and what it comes to.
struct ReportVariant {
    std::vector<std::string> choices;
    std::optional<StudyRow> row; ///< absent where it could not be judged; `problem` says why
    std::string problem;
};

struct ReportInput {
    std::string file; ///< name of the piece file, without its folder
    std::string text; ///< its bytes
    Piece piece;
    Asked asked;
    Result result;
    Fields fields;
    std::optional<Trials>
        trials;              ///< with one thing otherwise, and under a proof test; absent where not wanted
    std::vector<Datum> data; ///< what the computation starts from
    std::optional<Seasons> seasons; ///< absent where it is not known how the material moves
    std::vector<validation::Comparison> validation;
    std::size_t n_built_in_cases = 0;
    std::vector<std::string> varied; ///< what was varied; empty: nothing
    std::vector<ReportVariant> variants;
    double cutter = 12; ///< diameter, mm
    Units units = Units::mm;
    std::string date;
};

/// Sentences of the solver are turned into the units of the report.
std::string report_html(ReportInput input);

/// The pictures of such a page as files of their own, those for wide pages: name without ending, and SVG.
struct Picture {
    std::string name, svg;
};
std::vector<Picture> pictures_of(const std::string& page);

} // namespace hollowtop::cli
