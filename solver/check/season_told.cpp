// SPDX-License-Identifier: MIT
#include "solver/check/season_told.hpp"

#include "solver/seasons/season_holds.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <optional>
#include <utility>

namespace hollowtop {
namespace {

constexpr double no_bound = 999; ///< stands for "no capacity", and "no demand"

// clang-format off
constexpr auto rows = std::to_array<Check>({
    {"held across the grain", "pull across the grain under a bar that is glued or screwed fast across it, in the dry season, relaxed, its screws yielding (advice)",
     "tension across the grain with the volume that is held", "bars across the grain without slots",
     "the chain of screws and its sources: docs/seasons.md; strength as in bending across the grain", nullptr, JudgedOn::top},
    {"screws in the season", "force on the outermost screw of such a bar in the dry season, at most what it bears where it yields (advice)",
     "what a screw bears in shear for long", "bars across the grain in round holes",
     "docs/seasons.md; capacity as screws in shear", nullptr, JudgedOn::top},
});
// clang-format on

CheckResult season_row(const char* check, const Message& situation, const SeasonHold& hold, double demand,
                       double capacity) {
    CheckResult row;
    row.check = check;
    row.situation = situation;
    row.demand = demand;
    row.capacity = capacity;
    row.at = hold.at;
    row.advice = true;
    row.utilisation = capacity > 0 ? std::min(no_bound, demand / capacity) : no_bound;
    row.margin = demand > 0 ? std::min(no_bound, capacity / demand - 1) : no_bound;
    row.remedy =
        "fix the middle screw and slot the other holes across the top's grain; movement says how long";
    return row;
}

/// The worst of each kind, in the order of table_of_season_rows().
std::array<std::optional<CheckResult>, rows.size()> worst_rows(const SeasonHolds& seasons,
                                                               const Message& situation) {
    std::array<std::optional<CheckResult>, rows.size()> worst;
    auto& [wood, screws] = worst;
    for (const SeasonHold& hold : seasons.holds) {
        if (hold.tension_MPa > 0 && hold.tension_strength_MPa > 0) {
            CheckResult row =
                season_row(rows[0].name, situation, hold, hold.tension_MPa, hold.tension_strength_MPa);
            row.unit = "MPa";
            row.basis = said("{}{} in the dry season, relaxed; {}", hold.stiffener,
                             hold.glued ? ", glued across the grain," : ", screwed fast across the grain,",
                             hold.tension_basis);
            if (!wood || row.utilisation > wood->utilisation) wood = std::move(row);
        }
        if (hold.screw_N > 0 && hold.screw_bears_N) {
            CheckResult row = season_row(rows[1].name, situation, hold, hold.screw_N, *hold.screw_bears_N);
            row.unit = "N";
            row.basis =
                said("the outermost screw of {} in a season, relaxed; {}", hold.stiffener, hold.screw_basis);
            if (!screws || row.utilisation > screws->utilisation) screws = std::move(row);
        }
    }
    return worst;
}

} // namespace

std::span<const Check> table_of_season_rows() { return rows; }

std::array<double, 2> season_uses(const Piece& piece) {
    const auto worst = worst_rows(season_holds(piece), {});
    std::array<double, 2> uses{};
    for (std::size_t i = 0; i < uses.size(); ++i) uses[i] = worst[i] ? worst[i]->utilisation : -1;
    return uses;
}

void tell_of_season(const Piece& piece, Result& result) {
    SeasonHolds seasons = season_holds(piece);
    // they belong to the top, not to a load: as of the first bounce, the first situation's name stands there
    const Message situation = result.situations.empty() ? Message() : result.situations.front().name;
    for (std::optional<CheckResult>& row : worst_rows(seasons, situation))
        if (row) result.checks.push_back(std::move(*row));
    if (piece.ends)
        result.warnings.push_back(
            "Not judged: the tongues of the breadboard ends. The check takes the top as one piece out to its "
            "outer edges: a tongue is thinner, and nobody should sit or lean on an end until it has been "
            "looked at.");
    for (Message& warning : seasons.warnings) result.warnings.push_back(std::move(warning));
}

} // namespace hollowtop
