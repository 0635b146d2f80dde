// SPDX-License-Identifier: MIT
#pragma once
/// \file  Closed polygons in plan, the last point joined to the first. mm.

#include "solver/piece/piece.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace hollowtop {

/// How close two edges may come, mm, and still count as touching.
constexpr double touching = 1e-6;

/// Counter-clockwise.
std::vector<Point> corners_of(const Rectangle& box);
/// The same points, turned about where they run clockwise.
std::vector<Point> counter_clockwise(std::span<const Point> polygon);

struct Corner {
    Point in, out; ///< unit directions of the sides before and after
    double length_in = 0, length_out = 0;
    double turn = 0; ///< rad, to the left +
};
/// The corner at point i; its sides must have a length.
Corner corner_at(std::span<const Point> polygon, std::size_t i);

/// The corners of all that is further than `rim` from the polygon's edge. Empty where nothing is left, and where a
/// neck closes.
std::vector<Point> moved_inwards(std::span<const Point> polygon, double rim);
/// The greatest radius that rounds every corner of the polygon with no more than half of either side.
double largest_corner_radius(std::span<const Point> polygon);

/// The area within the polygon, mm2, counter-clockwise +.
double signed_area(std::span<const Point> polygon);
/// Share of the way from a to b that is nearest to p: 0 at a, 1 at b, beyond them not clamped.
double share_of(Point p, Point a, Point b);
/// From p to the nearest point between a and b.
double distance_to_edge(Point p, Point a, Point b);
/// Where the polygon crosses, touches or folds back on itself; empty where it does not.
std::optional<Point> crossing_of_itself(std::span<const Point> polygon);

} // namespace hollowtop
