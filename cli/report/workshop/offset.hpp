// SPDX-License-Identifier: MIT
#pragma once
/// \file  Closed lines of straight pieces and circular arcs, moved sideways: what a guide bush makes of a
/// template's edge.
///
///        template | bush ( o ) bush |      the cutter stands in the middle of the bush: it leaves wood
///        ---------+   cutter ||     |      (bush - cutter) / 2 beside the template's edge
///
/// mm; counter-clockwise loops, their inside on the left.

#include "solver/piece/loop.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli {

/// The loop moved outwards by `by` (inwards where negative): straight pieces slide, arcs change their radius
/// about their centre, and corners without an arc, or whose arc is used up, stay corners. Empty where it
/// closes: a side turns round, an arc is used up between arcs, or the line crosses itself. Arcs must be
/// circular.
std::optional<Loop> moved_outwards(const Loop& loop, double by);

/// The smallest radius of a corner that is hollow seen from inside (`convex` true: the corners of a recess
/// that a cutter inside it must reach) or that juts into it. 0 for a corner without an arc; turns under 6
/// degrees are taken for a curve's chords. Empty where there is no such corner.
struct TightCorner {
    double radius = 0;
    Point at{};
};
std::optional<TightCorner> tightest_corner(const Loop& loop, bool convex);

} // namespace hollowtop::cli
