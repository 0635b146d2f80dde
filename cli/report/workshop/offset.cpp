// SPDX-License-Identifier: MIT
#include "cli/report/workshop/offset.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop::cli {
namespace {

constexpr double nought = 1e-9;

Point minus(Point a, Point b) { return {a.x - b.x, a.y - b.y}; }
double cross(Point a, Point b) { return a.x * b.y - a.y * b.x; }
double dot(Point a, Point b) { return a.x * b.x + a.y * b.y; }
double length(Point a) { return std::hypot(a.x, a.y); }

/// Direction of travel at the start or the end of a piece.
Point heading(const EdgePiece& piece, bool at_end) {
    if (!piece.is_arc) {
        const Point d = minus(piece.b, piece.a);
        return {d.x / length(d), d.y / length(d)};
    }
    const Point r = minus(at_end ? piece.b : piece.a, piece.centre);
    const double size = length(r), sign = piece.hollow_side_is_centre
                                              ? 1
                                              : -1; // counter-clockwise about its centre, or clockwise
    return {-sign * r.y / size, sign * r.x / size};
}

std::optional<Point> intersection(const EdgePiece& one, const EdgePiece& two) {
    const Point d = minus(one.b, one.a), e = minus(two.b, two.a);
    const double area = cross(d, e);
    if (std::abs(area) < nought * length(d) * length(e)) return std::nullopt;
    const double share = cross(minus(two.a, one.a), e) / area;
    return Point{one.a.x + share * d.x, one.a.y + share * d.y};
}

} // namespace

std::optional<Loop> moved_outwards(const Loop& loop, double by) {
    Loop moved;
    for (const EdgePiece& piece : loop) {
        EdgePiece next = piece;
        if (piece.is_arc) {
            const double radius = piece.rx + (piece.hollow_side_is_centre ? by : -by);
            if (radius <= nought) continue; // used up: its neighbours meet in a corner
            const auto at = [&](Point p) {
                const double share = radius / piece.rx;
                return Point{piece.centre.x + share * (p.x - piece.centre.x),
                             piece.centre.y + share * (p.y - piece.centre.y)};
            };
            next.a = at(piece.a);
            next.b = at(piece.b);
            next.rx = next.ry = radius;
        } else {
            if (length(minus(piece.b, piece.a)) < nought) continue;
            const Point t = heading(piece, false);
            next.a = {piece.a.x + by * t.y, piece.a.y - by * t.x};
            next.b = {piece.b.x + by * t.y, piece.b.y - by * t.x};
        }
        moved.push_back(next);
    }
    if (moved.size() < 2) return std::nullopt;
    const Loop slid = moved;
    for (std::size_t i = 0; i < moved.size(); ++i) {
        const std::size_t k = (i + 1) % moved.size();
        constexpr double joined = 1e-6;
        if (length(minus(slid[i].b, slid[k].a)) < joined) {
            moved[k].a = slid[i].b;
            continue;
        }
        if (slid[i].is_arc || slid[k].is_arc) return std::nullopt;
        const auto corner = intersection(slid[i], slid[k]);
        if (!corner) return std::nullopt;
        moved[i].b = moved[k].a = *corner;
    }
    for (std::size_t i = 0; i < moved.size(); ++i)
        if (!moved[i].is_arc && dot(minus(moved[i].b, moved[i].a), minus(slid[i].b, slid[i].a)) <= 0)
            return std::nullopt;
    const Trace trace = trace_of_loop(moved);
    if (signed_area(trace.points) <= 0 || crossing_of_itself(trace.points)) return std::nullopt;
    return moved;
}

Trace trace_of_loop(const Loop& loop) {
    Trace trace{.points = {}, .stray = 0};
    for (const EdgePiece& piece : loop) {
        trace.points.push_back(piece.a);
        if (!piece.is_arc) continue;
        const double from =
            std::atan2((piece.a.y - piece.centre.y) / piece.ry, (piece.a.x - piece.centre.x) / piece.rx);
        double to =
            std::atan2((piece.b.y - piece.centre.y) / piece.ry, (piece.b.x - piece.centre.x) / piece.rx);
        constexpr double turn = 2 * std::numbers::pi;
        if (piece.hollow_side_is_centre && to < from) to += turn;
        if (!piece.hollow_side_is_centre && to > from) to -= turn;
        const double radius = std::max(piece.rx, piece.ry);
        const double step = radius > largest_stray ? 2 * std::acos(1 - largest_stray / radius) : 1;
        const int n = std::max(1, static_cast<int>(std::ceil(std::abs(to - from) / step)));
        for (int k = 1; k < n; ++k) {
            const double angle = from + (to - from) * k / n;
            trace.points.push_back(
                {piece.centre.x + piece.rx * std::cos(angle), piece.centre.y + piece.ry * std::sin(angle)});
        }
        trace.stray = largest_stray;
    }
    return trace;
}

std::optional<Corner> tightest_corner(const Loop& loop, bool convex) {
    std::optional<Corner> tightest;
    const auto take = [&](double radius, Point at) {
        if (!tightest || radius < tightest->radius) tightest = Corner{radius, at};
    };
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const EdgePiece &piece = loop[i], &next = loop[(i + 1) % loop.size()];
        if (piece.is_arc && piece.hollow_side_is_centre == convex) take(piece.rx, piece.a);
        const Point before = heading(piece, true), after = heading(next, false);
        const double turn = std::atan2(cross(before, after), dot(before, after));
        constexpr double chord_turn = 6 * std::numbers::pi / 180;
        if (std::abs(turn) > chord_turn && (turn > 0) == convex) take(0, piece.b);
    }
    return tightest;
}

} // namespace hollowtop::cli
