// SPDX-License-Identifier: MIT
#include "solver/check/season_told.hpp"

#include "solver/seasons/season_holds.hpp"

#include <algorithm>
#include <utility>

namespace hollowtop {
namespace {

constexpr double no_bound = 999; ///< stands for "no capacity", and "no demand"

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

} // namespace

void tell_of_season(const Piece& piece, Result& result) {
    SeasonHolds seasons = season_holds(piece);
    // they belong to the top, not to a load: as of the first bounce, the first situation's name stands there
    const Message situation = result.situations.empty() ? Message() : result.situations.front().name;
    std::optional<CheckResult> wood, screws;
    for (const SeasonHold& hold : seasons.holds) {
        if (hold.tension_MPa > 0 && hold.tension_strength_MPa > 0) {
            CheckResult row = season_row("held across the grain", situation, hold, hold.tension_MPa,
                                         hold.tension_strength_MPa);
            row.unit = "MPa";
            row.basis = said("{}{} in the dry season, relaxed; {}", hold.stiffener,
                             hold.glued ? ", glued across the grain," : ", screwed fast across the grain,",
                             hold.tension_basis);
            if (!wood || row.utilisation > wood->utilisation) wood = std::move(row);
        }
        if (hold.screw_N > 0 && hold.screw_bears_N) {
            CheckResult row =
                season_row("screws in the season", situation, hold, hold.screw_N, *hold.screw_bears_N);
            row.unit = "N";
            row.basis =
                said("the outermost screw of {} in a season, relaxed; {}", hold.stiffener, hold.screw_basis);
            if (!screws || row.utilisation > screws->utilisation) screws = std::move(row);
        }
    }
    for (std::optional<CheckResult>* row : {&wood, &screws})
        if (*row) result.checks.push_back(std::move(**row));
    for (Message& warning : seasons.warnings) result.warnings.push_back(std::move(warning));
}

} // namespace hollowtop
