// SPDX-License-Identifier: MIT
#pragma once
/// \file  Do shapes in plan fit into and beside each other? Loops become closed polygons; curves become
/// chords that stray less than `largest_stray` from them, and every comparison allows for that.
///
/// What is asked here is asked once a piece, so plain loops over all edges do.

#include "solver/piece/loop.hpp"
#include "solver/piece/piece.hpp"
#include "solver/piece/polygon.hpp"

#include <optional>
#include <vector>

namespace hollowtop {

/// How far a chord may stray from its curve, mm.
constexpr double largest_stray = 0.001;

/// A closed polygon, counter-clockwise, the last point joined to the first.
struct Trace {
    std::vector<Point> points;
    double stray = 0; ///< how far it may lie from the shape it stands for, mm
};

Trace trace_of(const Loop& loop);
Trace trace_of(const RectangleShape& shape);
Trace trace_of(const EllipseShape& shape);
/// Corners are rounded; the radius must not be above largest_corner_radius().
Trace trace_of(const PolygonShape& shape);
Trace trace_of(const Outline& outline);
/// The recess that a rim leaves; empty where it leaves nothing.
std::optional<Trace> traced_inset(const Outline& outline, const RimShape& rim);
/// The rectangle of that width about a line; from != to.
Trace band_along(Point from, Point to, double width);
/// The smallest box about it; where there are no points, one from infinity to minus infinity.
Rectangle bounds_of(const Trace& trace);

/// Distance from the point to the edge of the shape: inside +, outside -.
double depth_inside(const Trace& trace, Point point);
/// Shares (0..1) of the way from `a` to `b` at which it meets an edge, with 0 and 1, in order.
std::vector<double> meetings(Point a, Point b, const Trace& trace);

/// A place, and how far outside it lies, mm.
struct Outside {
    Point at;
    double by = 0;
};
/// Where `inner` reaches furthest out of `outer`; empty where it does not. Along a common edge is inside.
std::optional<Outside> reaches_out(const Trace& inner, const Trace& outer);
/// The same for a straight line, and for a point (from == to).
std::optional<Outside> reaches_out(Point from, Point to, const Trace& outer);

/// A place inside both; empty where the two at most touch.
std::optional<Point> common_place(const Trace& a, const Trace& b);

} // namespace hollowtop
