// SPDX-License-Identifier: MIT
#pragma once
/// \file  Shapes in plan as closed loops of pieces that are monotone in x and in y.
///
/// A loop runs counter-clockwise: its inside lies to the left. A piece is a straight segment or a quarter (or
/// less) of an ellipse whose axes are parallel to x and y, so that "where does it cross this x?" has one
/// closed answer. All that the shell knows about outlines, recesses and lands is these loops.

#include "solver/piece/piece.hpp"

#include <optional>
#include <variant>
#include <vector>

namespace hollowtop {

/// From `a` to `b`; straight, or on the ellipse about `centre` with semi-axes rx, ry.
struct EdgePiece {
    Point a, b;
    bool is_arc = false;
    Point centre{};
    double rx = 0, ry = 0;
    bool hollow_side_is_centre = true; ///< arcs: the loop's inside lies towards the centre (a convex corner)
};

using Loop = std::vector<EdgePiece>;
using Outline = std::variant<RectangleShape, EllipseShape, PolygonShape>;

/// Is the piece straight, and along x or y as closely as a mesh line takes it for its own?
bool runs_along_x_or_y(const EdgePiece& piece);

/// The point at a share of the piece's length; of an arc's eccentric angle.
Point point_on(const EdgePiece& piece, double share);
/// Of an arc: how far it turns about its centre in eccentric angle, rad, to the left +; and the point that much after `a`.
double turn_of(const EdgePiece& piece);
Point point_after(const EdgePiece& piece, double turn);

Loop loop_of(const RectangleShape& shape);
Loop loop_of(const EllipseShape& shape);
Loop loop_of(const PolygonShape& shape);

/// The loop at distance `rim` inside `outline`, its convex corners rounded to `corner_radius`. Curved
/// outlines are followed by chords that stray less than 0.02 mm. Empty where nothing is left.
Loop inset(const Outline& outline, double rim, double corner_radius);
/// The rim at which nothing is left inside a rectangle or an ellipse; empty for polygons.
std::optional<double> widest_rim(const Outline& outline);

/// y where the piece crosses the given x; empty where x is outside the piece or the piece is vertical.
std::optional<double> y_at(const EdgePiece& piece, double x);
/// x where the piece crosses the given y; empty where y is outside the piece or the piece is horizontal.
std::optional<double> x_at(const EdgePiece& piece, double y);

/// Even-odd rule; points on the loop may fall either way.
bool is_inside(const Loop& loop, Point point);

/// The pieces of a loop by where they lie in y, so that of a loop of hundreds only a few are asked. Of a
/// short loop there are no rows.
struct LoopRows {
    double y0 = 0, height = 0; ///< of the first row, and of each
    std::vector<std::vector<int>> pieces{};
};
LoopRows rows_of(const Loop& loop);
/// The same answer as without the rows, which are the loop's own or empty.
bool is_inside(const Loop& loop, const LoopRows& rows, Point point);

Rectangle bounds_of(const EdgePiece& piece);
Rectangle bounds_of(const Loop& loop);

/// Distance from the point to the piece, the nearest point on it and the unit normal there that points OUT of
/// the loop.
struct Nearest {
    double distance = 0;
    Point foot;
    Point outward;
    bool at_end = false; ///< the nearest point is an end of the piece, not square to it
};
Nearest nearest_on(const EdgePiece& piece, Point point);

/// Signed area of the loop, counter-clockwise +.
double area_of(const Loop& loop);

} // namespace hollowtop
