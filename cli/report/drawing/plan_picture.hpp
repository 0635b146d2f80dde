// SPDX-License-Identifier: MIT
#pragma once
/// \file  The top in plan and in section, to scale, with dimensions.
/// Two ways to look at it: from above, with the front edge (y = 0) below, as one sits at it; and from below,
/// turned over about its length, so that x still runs to the right and the front edge lies at the top, as it
/// lies on the bench.

#include "cli/report/drawing/placer.hpp"
#include "cli/report/drawing/plan_of.hpp"
#include "cli/report/drawing/svg.hpp"
#include "solver/piece/piece.hpp"

#include <string>
#include <vector>

namespace hollowtop::cli {

enum class Seen { from_above, from_below };

/// From millimetres of the piece to units of the picture.
struct View {
    double scale = 1;
    Point origin{}; ///< where the corner of the bounds that is nearest the picture's origin lies
    Rectangle bounds{};
    Seen seen = Seen::from_below;
    Point operator()(Point at) const;
    Point place_of(Point seen_at) const; ///< the other way
    Box box(const Rectangle& part) const;
};

SvgPath path_of(const Loop& loop, const View& view);
void add_to(SvgPath& path, const Loop& loop, const View& view);

/// A length in a drawing whose caption names the unit: "120", "120.5"; "4-3/4".
std::string drawn_length(double mm, Units units);

/// A place to be marked in the bench's drawing.
struct OutputPoint {
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
    std::vector<OutputPoint> spots = {};
    bool kept = true; ///< what the recesses hold, and their covers
};

/// Where the two sections are taken: through the middle of the largest recess, else of the top.
struct SectionLines {
    double x = 0, y = 0;
};
SectionLines section_lines(const Plan& plan);

/// "A", "B", ... for the supports, in the order of the piece.
std::string support_letter(std::size_t index);

Svg plan_picture(const std::string& id, const Piece& piece, const Plan& plan, double width, Units units,
                 const PlanContent& content);

/// Whether a section along the length (`along_x`), or across it, runs along the grain, or nearly so.
bool runs_along_grain(const Piece& piece, bool along_x);

/// The section along the length (`along_x`) or across it.
Svg section_picture(const std::string& id, const Piece& piece, const Plan& plan, double width, Units units,
                    bool along_x);

} // namespace hollowtop::cli
