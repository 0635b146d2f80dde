// SPDX-License-Identifier: MIT
#pragma once
/// \file  Where a thing kept in a recess lies in plan, what it hangs on, and how far it is to what stands
/// around it. mm.
///
///      +--rim---------------------------------+
///      |  ==================  runner          |   runners lie on the rim (or on a land) along the longer side of the thing,
///      |  +----------------+                  |   at the wall that is nearest to it
///      |  |  two leaves    |   recess         |
///      |  +----------------+                  |
///      |  ==================  runner          |
///      +--------------------------------------+

#include "solver/piece/piece.hpp"
#include "solver/piece/trace.hpp"

#include <array>
#include <string>
#include <vector>

namespace hollowtop {

/// The recess in plan; no points where a rim leaves nothing.
Trace trace_of(const Recess& recess, const Outline& outline);
Trace trace_of(const Land& land);

/// What lies in the plan of one recess, traced once.
struct RecessTraces {
    Trace outline, recess;
    std::vector<Trace> lands;
};
RecessTraces traces_of(const Recess& recess, const Outline& outline);

/// Its middle where none is stated is that of the recess.
Point place_of(const Kept& kept, const RecessTraces& traces);
Rectangle footprint_of(const Kept& kept, const RecessTraces& traces);

const char* to_word(HangsOn hangs);

/// The stretch, along x or along y, that is free between what stands on both sides of a footprint: walls,
/// lands and `others`.
/// Exact for what has straight sides.
struct FreeStretch {
    double low = 0, high = 0;
    std::string low_is, high_is; ///< what ends it: "the wall", "a land", or the words for a neighbour
    double size() const { return high - low; }
};
/// Something else that stands in the recess, beside the footprint.
struct Neighbour {
    std::string name; ///< in words, such as "tray" in its quotes
    std::vector<Point> outline;
};
FreeStretch free_along(bool along_x, const Rectangle& footprint, const RecessTraces& traces,
                       const std::vector<Neighbour>& others = {});

/// The two lines on which runners lie: at the walls beside the longer side of the footprint.
struct WallLine {
    Point from, to;
};
struct Runners {
    bool along_x = true;
    std::array<WallLine, 2> lines; ///< the lower first; both run towards greater x (or y)
};
Runners runners_of(const Rectangle& footprint, const RecessTraces& traces);

/// The lines on which a cover hangs: along the walls of the recess where there is a rim; curves become a few
/// chords.
std::vector<WallLine> edge_of_cover(const Recess& recess, const Outline& outline);
/// Area that a cover closes, mm2: the recess without its lands.
double area_of_cover(const RecessTraces& traces);
/// The shorter side of the smallest rectangle, square to the top, that holds the recess: what a cover
/// bridges.
double span_of_cover(const RecessTraces& traces);

} // namespace hollowtop
