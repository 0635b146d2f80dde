// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a report is made from.

#include "cli/json/result_json.hpp"
#include "cli/read/asked.hpp"
#include "cli/report/drawing/html.hpp"
#include "solver/hand/hand_estimate.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"
#include "solver/seasons/seasons.hpp"
#include "solver/uncertainty/uncertainty.hpp"
#include "solver/variants/row.hpp"
#include "validation/run_cases.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli {

/// A variant of the piece: what was chosen of each thing that was varied, and what it comes to.
struct ReportVariant {
    std::vector<Message> choices;
    std::optional<StudyRow> row; ///< absent where it could not be judged; `problem` says why
    Message problem;
};

/// For whom: one of the three papers, or all in one page with an annex behind them.
enum class Paper { all, client, maker, engineer };

/// The sag by hand of one situation, in its parts.
struct ByHand {
    std::size_t situation = 0;
    HandSag sag;
};

/// A photograph as it lies in the page.
struct Embedded {
    std::string type; ///< "image/png" or "image/jpeg"
    std::string base64, caption;
};

struct ReportInput {
    std::string file; ///< name of the piece file, without its folder
    std::string text; ///< its bytes
    Piece piece;
    Asked asked;
    Result result;
    Fields fields;
    std::optional<Trials>
        trials; ///< with one thing otherwise, and under a proof test; absent where not wanted
    std::optional<Uncertainty>
        band{}; ///< how far such tops scatter; absent where not wanted, or not computable
    std::optional<ByHand> by_hand{}; ///< under what stays; absent where no such estimate is made
    std::vector<Datum> data;         ///< what the computation starts from
    std::optional<Seasons> seasons;  ///< absent where it is not known how the material moves
    std::vector<validation::Comparison> validation;
    std::size_t n_built_in_cases = 0;
    std::vector<std::string> varied; ///< what was varied; empty: nothing
    std::vector<ReportVariant> variants;
    double cutter = 12; ///< diameter, mm
    Units units = Units::mm;
    std::string date;
    Paper paper = Paper::all;
    std::vector<Embedded> photographs{};
    std::string command; ///< that makes this page again
};

} // namespace hollowtop::cli
