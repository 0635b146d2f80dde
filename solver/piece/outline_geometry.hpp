// SPDX-License-Identifier: MIT
#pragma once
/// \file  Do shapes in plan fit into and beside each other? Shapes become closed polygons; curves become
/// chords that stray less than `largest_stray` from them, and every comparison allows for that.
///
/// What is asked here is asked once a piece, so plain loops over all edges do.

#include "solver/piece/piece.hpp"

#include <optional>
#include <span>
#include <variant>
#include <vector>

namespace hollowtop {

using Outline = std::variant<RectangleShape, EllipseShape, PolygonShape>;

/// How close two edges may come, mm, and still count as touching.
constexpr double touching = 1e-6;
/// How far a chord may stray from its curve, mm.
constexpr double largest_stray = 0.001;

/// A closed polygon, counter-clockwise, the last point joined to the first.
struct Trace {
    std::vector<Point> points;
    double stray = 0; ///< how far it may lie from the shape it stands for, mm
};

Trace trace_of(const RectangleShape& shape);
Trace trace_of(const EllipseShape& shape);
/// Corners are rounded; the radius must not be above largest_corner_radius().
Trace trace_of(const PolygonShape& shape);
Trace trace_of(const Outline& outline);
std::vector<Point> corners_of(const Rectangle& box);
/// The straight strip of that width about a line.
Trace strip(Point from, Point to, double width);

/// What is further than `rim` from an ellipse and a cutter of `corner_radius` reaches; rim + corner_radius
/// below half the width.
/// Where that is more than the radius of the ellipse's ends, the recess comes to a point there, rounded by
/// the cutter.
Trace inset_of_ellipse(const Rectangle& box, double rim, double corner_radius, double stray);
/// The rim at which nothing is left inside a rectangle or an ellipse; empty for polygons.
std::optional<double> widest_rim(const Outline& outline);
/// The corners of all that is further than `rim` from a rectangle or a polygon, its corners not rounded yet.
/// Empty where nothing is left, and where a polygon's neck closes.
std::vector<Point> moved_inwards(std::span<const Point> polygon, double rim);
/// The recess that a rim leaves; empty where it leaves nothing.
std::optional<Trace> inset(const Outline& outline, const RimShape& rim);
/// The greatest radius that rounds every corner of the polygon with no more than half of either side.
double largest_corner_radius(std::span<const Point> polygon);

/// The area within the polygon, counter-clockwise +.
double signed_area(std::span<const Point> polygon);
/// Where the polygon crosses, touches or folds back on itself; empty where it does not.
std::optional<Point> crossing_of_itself(std::span<const Point> polygon);

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
