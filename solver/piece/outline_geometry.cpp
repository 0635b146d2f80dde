// SPDX-License-Identifier: MIT
#include "solver/piece/outline_geometry.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

Point operator+(Point a, Point b) { return {a.x + b.x, a.y + b.y}; }
Point operator-(Point a, Point b) { return {a.x - b.x, a.y - b.y}; }
Point operator*(double s, Point a) { return {s * a.x, s * a.y}; }
double cross(Point a, Point b) { return a.x * b.y - a.y * b.x; }
double dot(Point a, Point b) { return a.x * b.x + a.y * b.y; }
double size_of(Point a) { return std::hypot(a.x, a.y); }
Point between(Point a, Point b, double share) { return a + share * (b - a); }

Point left_of(Point direction) { return {-direction.y, direction.x}; }

/// Calls visit(start, end) for every edge of the closed polygon.
template <class Visit> void for_edges(std::span<const Point> polygon, const Visit& visit) {
    for (std::size_t i = 0; i < polygon.size(); ++i) visit(polygon[i], polygon[(i + 1) % polygon.size()]);
}

std::vector<Point> counter_clockwise(std::span<const Point> polygon) {
    std::vector<Point> points(polygon.begin(), polygon.end());
    if (signed_area(points) < 0) std::reverse(points.begin(), points.end());
    return points;
}

/// Chords for a turn (radians) about a radius, so that none strays more than `stray`.
int chords_for(double radius, double turn, double stray = largest_stray) {
    const double sagitta_share = std::min(1.0, stray / radius);
    return std::max(1, static_cast<int>(std::ceil(std::abs(turn) / (2 * std::acos(1 - sagitta_share)))));
}

struct Corner {
    Point in, out; ///< unit directions of the sides before and after
    double length_in = 0, length_out = 0;
    double turn = 0; ///< to the left +
};

Corner corner_at(std::span<const Point> polygon, std::size_t i) {
    const std::size_t n = polygon.size();
    Corner corner;
    corner.in = polygon[i] - polygon[(i + n - 1) % n];
    corner.out = polygon[(i + 1) % n] - polygon[i];
    corner.length_in = size_of(corner.in);
    corner.length_out = size_of(corner.out);
    corner.in = (1 / corner.length_in) * corner.in;
    corner.out = (1 / corner.length_out) * corner.out;
    corner.turn = std::atan2(cross(corner.in, corner.out), dot(corner.in, corner.out));
    return corner;
}

Trace rounded(std::vector<Point> polygon, double radius) {
    if (radius <= 0) return {.points = std::move(polygon)};
    Trace trace{.points = {}, .stray = largest_stray};
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Corner corner = corner_at(polygon, i);
        const double cut = radius * std::tan(std::abs(corner.turn) / 2);
        const Point start = polygon[i] - cut * corner.in;
        const Point centre = start + std::copysign(radius, corner.turn) * left_of(corner.in);
        const int n = chords_for(radius, corner.turn);
        for (int k = 0; k <= n; ++k) {
            const double angle = corner.turn * k / n;
            const Point spoke = start - centre;
            trace.points.push_back({centre.x + spoke.x * std::cos(angle) - spoke.y * std::sin(angle),
                                    centre.y + spoke.x * std::sin(angle) + spoke.y * std::cos(angle)});
        }
    }
    return trace;
}

/// Share of the way from a to b that is nearest to p, not clamped.
double share_of(Point p, Point a, Point b) {
    const Point way = b - a;
    const double squared = dot(way, way);
    return squared > 0 ? dot(p - a, way) / squared : 0;
}

double distance_to_edge(Point p, Point a, Point b) {
    return size_of(p - between(a, b, std::clamp(share_of(p, a, b), 0.0, 1.0)));
}

bool odd_crossings(std::span<const Point> polygon, Point p) {
    bool inside = false;
    for_edges(polygon, [&](Point a, Point b) {
        if ((a.y > p.y) == (b.y > p.y)) return;
        if (a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y) > p.x) inside = !inside;
    });
    return inside;
}

Rectangle bounds_of(std::span<const Point> polygon) {
    Rectangle box{polygon[0].x, polygon[0].x, polygon[0].y, polygon[0].y};
    for (const Point& p : polygon) {
        box = {std::min(box.x0, p.x), std::max(box.x1, p.x), std::min(box.y0, p.y), std::max(box.y1, p.y)};
    }
    return box;
}

/// Some point well inside: halfway along the longest inner stretch of a line at mid-height.
Point inner_point(std::span<const Point> polygon) {
    const Rectangle box = bounds_of(polygon);
    const double y =
        box.y0 + 0.4871 * (box.y1 - box.y0); // an odd share, so that no corner is likely to lie on the line
    std::vector<double> crossings;
    for_edges(polygon, [&](Point a, Point b) {
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

} // namespace

Trace trace_of(const RectangleShape& shape) { return rounded(corners_of(shape.box), shape.corner_radius); }
Trace trace_of(const EllipseShape& shape) { return inset_of_ellipse(shape.box, 0, 0, largest_stray); }
Trace trace_of(const PolygonShape& shape) {
    return rounded(counter_clockwise(shape.points), shape.corner_radius);
}
Trace trace_of(const Outline& outline) {
    return std::visit([](const auto& shape) { return trace_of(shape); }, outline);
}

std::vector<Point> corners_of(const Rectangle& box) {
    return {{box.x0, box.y0}, {box.x1, box.y0}, {box.x1, box.y1}, {box.x0, box.y1}};
}

Trace strip(Point from, Point to, double width) {
    const Point aside = (width / 2 / size_of(to - from)) * left_of(to - from);
    return {.points = {from - aside, to - aside, to + aside, from + aside}};
}

std::optional<double> widest_rim(const Outline& outline) {
    if (const auto* rectangle = std::get_if<RectangleShape>(&outline)) {
        return std::min(rectangle->box.x1 - rectangle->box.x0, rectangle->box.y1 - rectangle->box.y0) / 2;
    }
    if (const auto* ellipse = std::get_if<EllipseShape>(&outline)) {
        return std::min(ellipse->box.x1 - ellipse->box.x0, ellipse->box.y1 - ellipse->box.y0) / 2;
    }
    return std::nullopt;
}

std::vector<Point> moved_inwards(std::span<const Point> polygon, double rim) {
    const std::vector<Point> points = counter_clockwise(polygon);
    const std::size_t n = points.size();
    std::vector<Point> moved(n);
    for (std::size_t i = 0; i < n; ++i) {
        const Corner corner = corner_at(points, i);
        // where the two sides meet after each has moved to its left
        const double along = rim * std::tan(corner.turn / 2);
        moved[i] = points[i] + rim * left_of(corner.in) - along * corner.in;
    }
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t next = (i + 1) % n;
        if (dot(points[next] - points[i], moved[next] - moved[i]) <= 0) return {};
    }
    if (crossing_of_itself(moved)) return {};
    return moved;
}

Trace inset_of_ellipse(const Rectangle& box, double rim, double corner_radius, double stray) {
    const double rx = (box.x1 - box.x0) / 2, ry = (box.y1 - box.y0) / 2, a = std::max(rx, ry),
                 b = std::min(rx, ry);
    // Of the curve parallel at rim + corner_radius the parts beyond its crossing on the long axis are no
    // edge: there the normal's length (b^2 cos^2 t + a^2 sin^2 t)^(1/2) is reach a / b.
    const double reach = rim + corner_radius;
    const double crossing = a > b ? (reach * reach * a * a / (b * b) - b * b) / (a * a - b * b) : 0;
    const double first = std::asin(std::sqrt(std::clamp(crossing, 0.0, 1.0)));
    std::vector<Point> quarter;           // from the end of the long axis to that of the short one
    if (first > 0 && corner_radius > 0) { // the cutter turns about the crossing
        const double centre = (a - b * b / a) * std::cos(first),
                     turn = std::atan2(a * std::sin(first), b * std::cos(first));
        const int n = chords_for(corner_radius, turn, stray);
        for (int k = 0; k < n; ++k)
            quarter.push_back(
                {centre + corner_radius * std::cos(turn * k / n), corner_radius * std::sin(turn * k / n)});
    }
    const double rest = std::numbers::pi / 2 - first;
    const int n = chords_for(a, rest, stray);
    for (int k = 0; k <= n; ++k) {
        const double t = first + rest * k / n;
        const Point normal{b * std::cos(t), a * std::sin(t)};
        quarter.push_back(Point{a * std::cos(t), b * std::sin(t)} - (rim / size_of(normal)) * normal);
    }
    quarter.front().y = quarter.back().x = 0;
    const Point centre{(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    Trace trace{.points = {}, .stray = stray};
    const auto add = [&](double x, double y) {
        trace.points.push_back(centre + (rx >= ry ? Point{x, y} : Point{-y, x}));
    };
    for (std::size_t k = 0; k + 1 < quarter.size(); ++k) add(quarter[k].x, quarter[k].y);
    for (std::size_t k = quarter.size() - 1; k > 0; --k) add(-quarter[k].x, quarter[k].y);
    for (std::size_t k = 0; k + 1 < quarter.size(); ++k) add(-quarter[k].x, -quarter[k].y);
    for (std::size_t k = quarter.size() - 1; k > 0; --k) add(quarter[k].x, -quarter[k].y);
    return trace;
}

std::optional<Trace> inset(const Outline& outline, const RimShape& rim) {
    const std::optional<double> widest = widest_rim(outline);
    if (widest && rim.rim >= *widest) return std::nullopt;
    if (const auto* ellipse = std::get_if<EllipseShape>(&outline)) {
        if (rim.rim + rim.corner_radius >= *widest) return std::nullopt;
        return inset_of_ellipse(ellipse->box, rim.rim, rim.corner_radius, largest_stray);
    }
    std::vector<Point> corners;
    double outer_radius = 0;
    if (const auto* rectangle = std::get_if<RectangleShape>(&outline)) {
        corners = moved_inwards(corners_of(rectangle->box), rim.rim);
        outer_radius = rectangle->corner_radius;
    } else {
        const auto& polygon = std::get<PolygonShape>(outline);
        corners = moved_inwards(polygon.points, rim.rim);
        outer_radius = polygon.corner_radius;
    }
    if (corners.empty()) return std::nullopt;
    return rounded(std::move(corners), std::max({rim.corner_radius, outer_radius - rim.rim, 0.0}));
}

double largest_corner_radius(std::span<const Point> polygon) {
    double largest = INFINITY;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Corner corner = corner_at(polygon, i);
        const double half_side = std::min(corner.length_in, corner.length_out) / 2;
        const double cut_per_radius = std::tan(std::abs(corner.turn) / 2);
        if (cut_per_radius > 0) largest = std::min(largest, half_side / cut_per_radius);
    }
    return largest;
}

double signed_area(std::span<const Point> polygon) {
    double twice = 0;
    for_edges(polygon, [&](Point a, Point b) { twice += cross(a - polygon[0], b - polygon[0]); });
    return twice / 2;
}

std::optional<Point> crossing_of_itself(std::span<const Point> polygon) {
    const std::size_t n = polygon.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Corner corner = corner_at(polygon, i);
        if (dot(corner.in, corner.out) < 0 && std::abs(cross(corner.in, corner.out)) < 1e-9)
            return polygon[i];
    }
    for (std::size_t i = 0; i < n; ++i) {
        const Point a = polygon[i], b = polygon[(i + 1) % n];
        for (std::size_t j = i + 2; j < n; ++j) {
            if (i == 0 && j == n - 1) continue; // neighbours
            const Point c = polygon[j], d = polygon[(j + 1) % n];
            const double side_c = cross(b - a, c - a), side_d = cross(b - a, d - a);
            const double side_a = cross(d - c, a - c), side_b = cross(d - c, b - c);
            if (side_c * side_d < 0 && side_a * side_b < 0) return between(c, d, side_c / (side_c - side_d));
            if (distance_to_edge(c, a, b) < touching) return c;
            if (distance_to_edge(d, a, b) < touching) return d;
            if (distance_to_edge(a, c, d) < touching) return a;
            if (distance_to_edge(b, c, d) < touching) return b;
        }
    }
    return std::nullopt;
}

double depth_inside(const Trace& trace, Point point) {
    double nearest = INFINITY;
    for_edges(trace.points,
              [&](Point a, Point b) { nearest = std::min(nearest, distance_to_edge(point, a, b)); });
    return odd_crossings(trace.points, point) ? nearest : -nearest;
}

std::vector<double> meetings(Point a, Point b, const Trace& trace) {
    std::vector<double> shares{0, 1};
    const double length = size_of(b - a);
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
    const Rectangle box_a = bounds_of(a.points), box_b = bounds_of(b.points);
    if (box_a.x1 <= box_b.x0 || box_b.x1 <= box_a.x0 || box_a.y1 <= box_b.y0 || box_b.y1 <= box_a.y0) {
        return std::nullopt;
    }
    if (const auto place = edge_within(a, b)) return place;
    if (const auto place = edge_within(b, a)) return place;
    // all edges in common: the two are one shape, or lie on two sides of the same edge
    const Point inner = inner_point(a.points);
    if (depth_inside(b, inner) > touching + a.stray + b.stray) return inner;
    return std::nullopt;
}

} // namespace hollowtop
