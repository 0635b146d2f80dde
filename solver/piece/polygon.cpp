// SPDX-License-Identifier: MIT
#include "solver/piece/polygon.hpp"

#include "solver/piece/plane.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hollowtop {

std::vector<Point> corners_of(const Rectangle& box) {
    return {{box.x0, box.y0}, {box.x1, box.y0}, {box.x1, box.y1}, {box.x0, box.y1}};
}

std::vector<Point> counter_clockwise(std::span<const Point> polygon) {
    std::vector<Point> points(polygon.begin(), polygon.end());
    if (signed_area(points) < 0) std::reverse(points.begin(), points.end());
    return points;
}

Corner corner_at(std::span<const Point> polygon, std::size_t i) {
    const std::size_t n = polygon.size();
    const Point before = polygon[(i + n - 1) % n], here = polygon[i], after = polygon[(i + 1) % n];
    Corner corner{.in = here - before, .out = after - here};
    corner.length_in = length_of(corner.in);
    corner.length_out = length_of(corner.out);
    corner.in = {corner.in.x / corner.length_in, corner.in.y / corner.length_in};
    corner.out = {corner.out.x / corner.length_out, corner.out.y / corner.length_out};
    corner.turn = std::atan2(cross(corner.in, corner.out), dot(corner.in, corner.out));
    return corner;
}

std::vector<Point> moved_inwards(std::span<const Point> polygon, double rim) {
    const std::vector<Point> points = counter_clockwise(polygon);
    const std::size_t n = points.size();
    std::vector<Point> moved(n);
    for (std::size_t i = 0; i < n; ++i) {
        const Corner corner = corner_at(points, i);
        const Point &here = points[i], &in = corner.in, &out = corner.out;
        // where the two sides meet after each has moved to its left by the rim
        const double turn = cross(in, out); // the sine of the angle
        const Point a{here.x - rim * in.y, here.y + rim * in.x};
        if (std::abs(turn) < 1e-9) { // the two are one side
            moved[i] = a;
            continue;
        }
        const Point b{here.x - rim * out.y, here.y + rim * out.x};
        const double s = cross(b - a, out) / turn;
        moved[i] = {a.x + s * in.x, a.y + s * in.y};
    }
    for (std::size_t i = 0; i < n; ++i) { // a side that has turned about is used up
        const std::size_t next = (i + 1) % n;
        if (dot(points[next] - points[i], moved[next] - moved[i]) <= 0) return {};
    }
    if (crossing_of_itself(moved)) return {};
    return moved;
}

double largest_corner_radius(std::span<const Point> polygon) {
    double largest = std::numeric_limits<double>::infinity();
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
    for (std::size_t i = 0; i < polygon.size(); ++i)
        twice += cross(polygon[i] - polygon[0], polygon[(i + 1) % polygon.size()] - polygon[0]);
    return twice / 2;
}

double share_of(Point p, Point a, Point b) {
    const Point way = b - a;
    const double squared = dot(way, way);
    return squared > 0 ? dot(p - a, way) / squared : 0;
}

double distance_to_edge(Point p, Point a, Point b) {
    return length_of(p - between(a, b, std::clamp(share_of(p, a, b), 0.0, 1.0)));
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
            const bool lie_apart = std::min(a.x, b.x) > std::max(c.x, d.x) + touching || // most do
                                   std::max(a.x, b.x) < std::min(c.x, d.x) - touching ||
                                   std::min(a.y, b.y) > std::max(c.y, d.y) + touching ||
                                   std::max(a.y, b.y) < std::min(c.y, d.y) - touching;
            if (lie_apart) continue;
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

} // namespace hollowtop
