// SPDX-License-Identifier: MIT
#pragma once
/// \file  The top in plan and in section, to scale, with dimensions.
/// Two ways to look at it: from above, with the front edge (y = 0) below, as one sits at it; and from below,
/// turned over about its length, so that x still runs to the right and the front edge lies at the top, as it
/// lies on the bench.

#include "cli/report/drawing/plan_marks.hpp"
#include "cli/report/drawing/plan_view.hpp"
#include "solver/piece/piece.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli {

/// A place to be marked in the bench's drawing.
struct Mark {
    Point at;
    std::string label;
};

struct PlanContent {
    bool dimensions = true;
    bool depths = true;
    bool supports = true;
    bool sections = true; ///< marks where the sections are taken
    bool stiffeners = true;
    bool clamps = true;
    bool gauges = false; ///< draws `spots`
    std::vector<Mark> spots = {};
    bool kept = true; ///< what the recesses hold, and their covers
    Seen seen = Seen::from_below;
    bool loads = false;
    std::optional<Point> worst = {}; ///< where the check that governs is nearest to its limit
};

Svg plan_picture(const std::string& id, const Piece& piece, const Plan& plan, double width, Units units,
                 const PlanContent& content);

/// Whether a section along the length (`along_x`), or across it, runs along the grain, or nearly so.
bool runs_along_grain(const Piece& piece, bool along_x);

/// The section along the length (`along_x`) or across it.
Svg section_picture(const std::string& id, const Piece& piece, const Plan& plan, double width, Units units,
                    bool along_x);

} // namespace hollowtop::cli
