// SPDX-License-Identifier: MIT
#pragma once
/// \file  The result of `check` in a furniture maker's words.

#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"
#include "solver/uncertainty/uncertainty.hpp"

#include <string>
#include <vector>

namespace hollowtop::cli {

struct TextStyle {
    Units units = Units::mm;
    bool coloured = false;
    bool all_sources = false; ///< where every limit comes from, not only the one that governs
};

/// The whole report: verdict, what governs and what to change, weight, sag, checks, supports, how sure,
/// cautions.
std::string check_text(const std::string& file, const Piece& piece, const Result& computed,
                       const TextStyle& style, const Uncertainty* band = nullptr);

/// One line for a table of several pieces: "table.json  meets the limits set      83 %  bending across the
/// grain".
struct SummaryRow {
    std::string file;
    const Result* result = nullptr; ///< nullptr where it could not be computed; `problem` then says why
    std::string problem;
};
std::string summary_text(const std::vector<SummaryRow>& rows, const TextStyle& style);

} // namespace hollowtop::cli
