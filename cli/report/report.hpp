// SPDX-License-Identifier: MIT
#pragma once
/// \file  The report for a client piece: one HTML page that needs nothing else, neither network nor script.
/// From the same input it comes out the same, byte for byte; it holds no date but the one that was given.

#include "cli/report/asked.hpp"
#include "cli/report/html.hpp"
#include "solver/analysis/result.hpp"
#include "solver/piece/piece.hpp"
#include "solver/study/seasons.hpp"
#include "validation/run_cases.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli {

struct ReportInput {
    std::string file; ///< name of the piece file, without its folder
    std::string text; ///< its bytes
    Piece piece;
    Asked asked;
    Result result;
    Fields fields;
    std::optional<Seasons> seasons; ///< absent where it is not known how the material moves
    std::vector<validation::Comparison> validation;
    std::size_t n_built_in_cases = 0;
    double cutter = 12; ///< diameter, mm
    Units units = Units::mm;
    std::string date;
};

std::string report_html(const ReportInput& input);

} // namespace hollowtop::cli
