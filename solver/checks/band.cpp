// SPDX-License-Identifier: MIT
// How sure the number that decides is.
#include "solver/checks/checks.hpp"

#include <algorithm>
#include <vector>

namespace hollowtop {
namespace {

/// Of a board whose modulus was measured, or whose constants are stated: judgement, a bend test with a rule
/// and a weight.
constexpr double share_of_measured = 0.05;

double share_of_stiffness(const Piece& piece) {
    const std::vector<Board>& boards = piece.top.each_board;
    const bool each_measured =
        !boards.empty() && std::all_of(boards.begin(), boards.end(),
                                       [](const Board& b) { return b.measured.E_along.has_value(); });
    return piece.top.measured.E_along || each_measured || piece.top.elastic ? share_of_measured
                                                                            : stiffness_spread;
}

bool is_movement_of_wood(const CheckResult& row) {
    return row.check.starts_with("sag") || row.check.starts_with("flatness") || row.check == "dish";
}

} // namespace

void find_band(const Piece& piece, Result& result) {
    result.governing_band = {};
    result.to_spare = false;
    const auto governs = [&](const CheckResult& row) {
        return !row.advice && row.check == result.governing_check &&
               row.situation == result.governing_situation && row.utilisation == result.governing_utilisation;
    };
    const auto row = std::find_if(result.checks.begin(), result.checks.end(), governs);
    if (row == result.checks.end()) return;
    const double error = row->error_percent.value_or(0) / 100;
    // a movement goes as one over the stiffness; what metal stiffeners carry varies less
    const double share = is_movement_of_wood(*row) ? share_of_stiffness(piece) : 0;
    result.governing_band = {row->utilisation * std::max(0.0, 1 - error) / (1 + share),
                             row->utilisation * (1 + error) / (1 - share)};
    const bool any_may_exceed =
        std::any_of(result.checks.begin(), result.checks.end(), [](const CheckResult& other) {
            return !other.advice && other.utilisation * (1 + other.error_percent.value_or(0) / 100) > 1;
        });
    result.to_spare = result.passes && result.governing_band[1] <= 1 && !any_may_exceed;
}

} // namespace hollowtop
