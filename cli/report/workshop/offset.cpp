// SPDX-License-Identifier: MIT
#include "cli/report/workshop/offset.hpp"

#include "solver/piece/plane.hpp"
#include "solver/piece/trace.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop::cli {
namespace {

constexpr double nought = 1e-9;

/// Direction of travel at the start or the end of a piece.
Point heading(const EdgePiece& piece, bool at_end) {
    if (!piece.is_arc) {
        const Point d = (piece.b - piece.a);
        return {d.x / length_of(d), d.y / length_of(d)};
    }
    const Point r = (at_end ? piece.b : piece.a) - piece.centre;
    const double size = length_of(r), sign = piece.hollow_side_is_centre
                                                 ? 1
                                                 : -1; // counter-clockwise about its centre, or clockwise
    return {-sign * r.y / size, sign * r.x / size};
}

std::optional<Point> intersection(const EdgePiece& one, const EdgePiece& two) {
    const Point d = (one.b - one.a), e = (two.b - two.a);
    const double area = cross(d, e);
    if (std::abs(area) < nought * length_of(d) * length_of(e)) return std::nullopt;
    const double share = cross(two.a - one.a, e) / area;
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
            if (length_of(piece.b - piece.a) < nought) continue;
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
        if (length_of(slid[i].b - slid[k].a) < joined) {
            moved[k].a = slid[i].b;
            continue;
        }
        if (slid[i].is_arc || slid[k].is_arc) return std::nullopt;
        const auto corner = intersection(slid[i], slid[k]);
        if (!corner) return std::nullopt;
        moved[i].b = moved[k].a = *corner;
    }
    for (std::size_t i = 0; i < moved.size(); ++i)
        if (!moved[i].is_arc && dot(moved[i].b - moved[i].a, slid[i].b - slid[i].a) <= 0) return std::nullopt;
    const Trace trace = trace_of(moved);
    if (signed_area(trace.points) <= 0 || crossing_of_itself(trace.points)) return std::nullopt;
    return moved;
}

std::optional<TightCorner> tightest_corner(const Loop& loop, bool convex) {
    std::optional<TightCorner> tightest;
    const auto take = [&](double radius, Point at) {
        if (!tightest || radius < tightest->radius) tightest = TightCorner{radius, at};
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
