// SPDX-License-Identifier: MIT
#include "solver/piece/trace.hpp"

#include "solver/piece/ellipse_inset.hpp"
#include "solver/piece/plane.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <span>

namespace hollowtop {
namespace {

/// Calls visit(start, end) for every edge of the closed polygon.
template <class Visit> void for_edges(std::span<const Point> polygon, const Visit& visit) {
    for (std::size_t i = 0; i < polygon.size(); ++i) visit(polygon[i], polygon[(i + 1) % polygon.size()]);
}

bool odd_crossings(std::span<const Point> polygon, Point p) {
    bool inside = false;
    for_edges(polygon, [&](Point a, Point b) {
        if ((a.y > p.y) == (b.y > p.y)) return;
        if (a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y) > p.x) inside = !inside;
    });
    return inside;
}

/// Some point well inside: halfway along the longest inner stretch of a line at mid-height.
Point inner_point(const Trace& trace) {
    const Rectangle box = bounds_of(trace);
    const double y =
        box.y0 + 0.4871 * (box.y1 - box.y0); // an odd share, so that no corner is likely to lie on the line
    std::vector<double> crossings;
    for_edges(trace.points, [&](Point a, Point b) {
        if ((a.y > y) != (b.y > y)) crossings.push_back(a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y));
    });
    std::sort(crossings.begin(), crossings.end());
    Point best{box.x0, y};
    double widest = 0;
    for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
        if (crossings[i + 1] - crossings[i] <= widest) continue;
        widest = crossings[i + 1] - crossings[i];
        best.x = (crossings[i] + crossings[i + 1]) / 2;
    }
    return best;
}

/// A place on the edge of `a` that lies deeper in `b` than touching.
std::optional<Point> edge_within(const Trace& a, const Trace& b) {
    std::optional<Point> place;
    double deepest = touching + a.stray + b.stray;
    for_edges(a.points, [&](Point start, Point end) {
        const std::vector<double> shares = meetings(start, end, b);
        for (std::size_t i = 0; i + 1 < shares.size(); ++i) {
            const Point middle = between(start, end, (shares[i] + shares[i + 1]) / 2);
            const double depth = depth_inside(b, middle);
            if (depth <= deepest) continue;
            deepest = depth;
            place = middle;
        }
    });
    return place;
}

/// Are the two parts of one arc that was cut at a quarter? A whole quarter is taken for an arc of its own.
bool one_arc(const EdgePiece& a, const EdgePiece& b) {
    const auto is_part = [](const EdgePiece& piece) {
        return piece.is_arc && std::abs(turn_of(piece)) < std::numbers::pi / 2 - 1e-9;
    };
    return is_part(a) && is_part(b) && a.centre == b.centre && a.rx == b.rx && a.ry == b.ry;
}

} // namespace

Trace trace_of(const Loop& loop) {
    Trace trace;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const EdgePiece& piece = loop[i];
        trace.points.push_back(piece.a);
        if (!piece.is_arc) continue;
        double turn = turn_of(piece); // of the whole arc, so that its chords are of one length
        while (i + 1 < loop.size() && one_arc(loop[i], loop[i + 1])) turn += turn_of(loop[++i]);
        const int n = chords_for(std::max(piece.rx, piece.ry), turn, largest_stray);
        for (int k = 1; k < n; ++k) trace.points.push_back(point_after(piece, turn * k / n));
        trace.stray = largest_stray;
    }
    return trace;
}

Trace trace_of(const RectangleShape& shape) { return trace_of(loop_of(shape)); }
Trace trace_of(const EllipseShape& shape) {
    return {.points = inset_of_ellipse(shape.box, 0, 0, largest_stray), .stray = largest_stray};
}
Trace trace_of(const PolygonShape& shape) { return trace_of(loop_of(shape)); }
Trace trace_of(const Outline& outline) {
    return std::visit([](const auto& shape) { return trace_of(shape); }, outline);
}

std::optional<Trace> traced_inset(const Outline& outline, const RimShape& rim) {
    if (const auto* ellipse = std::get_if<EllipseShape>(&outline)) {
        if (rim.rim + rim.corner_radius >= *widest_rim(outline)) return std::nullopt;
        return Trace{.points = inset_of_ellipse(ellipse->box, rim.rim, rim.corner_radius, largest_stray),
                     .stray = largest_stray};
    }
    const Loop loop = inset(outline, rim.rim, rim.corner_radius);
    if (loop.empty()) return std::nullopt;
    return trace_of(loop);
}

Trace band_along(Point from, Point to, double width) {
    const Point aside = (width / 2 / length_of(to - from)) * left_of(to - from);
    return {.points = {from - aside, to - aside, to + aside, from + aside}};
}

Rectangle bounds_of(const Trace& trace) {
    constexpr double inf = std::numeric_limits<double>::infinity();
    Rectangle box{inf, -inf, inf, -inf};
    for (const Point& p : trace.points) {
        box = {std::min(box.x0, p.x), std::max(box.x1, p.x), std::min(box.y0, p.y), std::max(box.y1, p.y)};
    }
    return box;
}

double depth_inside(const Trace& trace, Point point) {
    double nearest = std::numeric_limits<double>::infinity();
    for_edges(trace.points,
              [&](Point a, Point b) { nearest = std::min(nearest, distance_to_edge(point, a, b)); });
    return odd_crossings(trace.points, point) ? nearest : -nearest;
}

std::vector<double> meetings(Point a, Point b, const Trace& trace) {
    std::vector<double> shares{0, 1};
    const double length = length_of(b - a);
    if (length <= 0) return shares;
    for_edges(trace.points, [&](Point c, Point d) {
        const double side_c = cross(b - a, c - a) / length, side_d = cross(b - a, d - a) / length;
        if (std::abs(side_c) < touching) shares.push_back(share_of(c, a, b));
        if (side_c * side_d < 0) shares.push_back(share_of(between(c, d, side_c / (side_c - side_d)), a, b));
    });
    std::erase_if(shares, [](double share) { return share < 0 || share > 1; });
    std::sort(shares.begin(), shares.end());
    shares.erase(std::unique(shares.begin(), shares.end()), shares.end());
    return shares;
}

std::optional<Outside> reaches_out(Point from, Point to, const Trace& outer) {
    std::optional<Outside> furthest;
    double least_depth = -(touching + outer.stray);
    const auto look_at = [&](Point p) {
        const double depth = depth_inside(outer, p);
        if (depth >= least_depth) return;
        least_depth = depth;
        furthest = Outside{.at = p, .by = -depth};
    };
    const std::vector<double> shares = meetings(from, to, outer);
    for (std::size_t i = 0; i < shares.size(); ++i) {
        look_at(between(from, to, shares[i]));
        if (i > 0) look_at(between(from, to, (shares[i - 1] + shares[i]) / 2));
    }
    return furthest;
}

std::optional<Outside> reaches_out(const Trace& inner, const Trace& outer) {
    std::optional<Outside> furthest;
    for_edges(inner.points, [&](Point a, Point b) {
        const std::optional<Outside> here = reaches_out(a, b, outer);
        if (here && here->by > touching + inner.stray + outer.stray &&
            (!furthest || here->by > furthest->by)) {
            furthest = here;
        }
    });
    return furthest;
}

std::optional<Point> common_place(const Trace& a, const Trace& b) {
    const Rectangle box_a = bounds_of(a), box_b = bounds_of(b);
    if (box_a.x1 <= box_b.x0 || box_b.x1 <= box_a.x0 || box_a.y1 <= box_b.y0 || box_b.y1 <= box_a.y0) {
        return std::nullopt;
    }
    if (const auto place = edge_within(a, b)) return place;
    if (const auto place = edge_within(b, a)) return place;
    // all edges in common: the two are one shape, or lie on two sides of the same edge
    const Point inner = inner_point(a);
    if (depth_inside(b, inner) > touching + a.stray + b.stray) return inner;
    return std::nullopt;
}

} // namespace hollowtop
