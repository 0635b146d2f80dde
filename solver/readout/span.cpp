// SPDX-License-Identifier: MIT
#include "solver/readout/span.hpp"

#include "solver/piece/plane.hpp"
#include "solver/situations/tipping.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <type_traits>
#include <variant>

namespace hollowtop {
namespace {

constexpr double none = std::numeric_limits<double>::infinity();

/// The middle of what the top rests on, a point or a line, and all of it.
struct Rest {
    Point from{}, to{};
    std::vector<Point> corners{};
};

std::optional<Rest> rest_of(const Support& support) {
    const auto line = [](Point from, Point to, double width) {
        Rest rest{.from = from, .to = to, .corners = {}};
        const double length = length_of(to - from);
        const Point aside = length > 0 ? (width / 2 / length) * Point{from.y - to.y, to.x - from.x} : Point{};
        rest.corners = {from - aside, to - aside, to + aside, from + aside};
        return rest;
    };
    return std::visit(
        [&](const auto& kind) -> std::optional<Rest> {
            using Kind = std::decay_t<decltype(kind)>;
            if constexpr (std::is_same_v<Kind, Pad>) {
                const Point a{kind.size_x / 2, kind.size_y / 2}, b{a.x, -a.y};
                return Rest{.from = kind.at,
                            .to = kind.at,
                            .corners = {kind.at - a, kind.at + b, kind.at + a, kind.at - b}};
            } else if constexpr (std::is_same_v<Kind, Bearer>) {
                return line(kind.from, kind.to, kind.width);
            } else if constexpr (std::is_same_v<Kind, Held>) {
                return kind.down ? std::optional(line(kind.from, kind.to, 0)) : std::nullopt;
            } else {
                return line(kind.from, kind.to, 0);
            }
        },
        support.kind);
}

/// How far ahead the support is. A line that the top rests on: straight ahead. A foot, or the end of a line
/// that does not lie abreast of the place: the diameter of the circle that touches the line across `way` at
/// `place`, ahead of it, and meets it. Infinite where it is not ahead.
double circle_to(const Rest& rest, Point place, Point way) {
    const Point a = rest.from - place, b = rest.to - place;
    const auto to = [&](Point s) {
        const double along = dot(s, way), far = dot(s, s);
        return along > 0 ? far / along : far > 0 ? none : 0;
    };
    const Point line = b - a;
    const bool is_abreast = dot(line, line) > 0 && dot(a, line) < 0 && dot(b, line) > 0;
    double least = is_abreast ? none : std::min(to(a), to(b));
    const double side_a = cross(way, a), side_b = cross(way, b);
    if (side_a * side_b <= 0 && side_a != side_b) {
        const double ahead = dot(way, a + (side_a / (side_a - side_b)) * (b - a));
        if (ahead >= 0) least = std::min(least, ahead);
    }
    return least;
}

double circle_ahead(const std::vector<Rest>& rests, Point place, Point way) {
    double least = none;
    for (const Rest& rest : rests) least = std::min(least, circle_to(rest, place, way));
    return least;
}

Point way_at(double angle) { return {std::cos(angle), std::sin(angle)}; }

/// Distance straight ahead to a line that the top rests on; infinite where there is none.
double straight_ahead(const std::vector<Rest>& rests, Point place, Point way) {
    double least = none;
    for (const Rest& rest : rests) {
        const Point a = rest.from - place, b = rest.to - place;
        const double side_a = cross(way, a), side_b = cross(way, b);
        if (side_a * side_b > 0 || side_a == side_b) continue;
        const double along = dot(way, a + (side_a / (side_a - side_b)) * (b - a));
        if (along > 0) least = std::min(least, along);
    }
    return least;
}

/// The least sum of both circles' diameters, and the direction of its line.
struct Way {
    double length = none, angle = 0;
};
Way shortest_way(const std::vector<Rest>& rests, Point place) {
    const auto both = [&](double angle) {
        const Point way = way_at(angle);
        return circle_ahead(rests, place, way) + circle_ahead(rests, place, -1 * way);
    };
    constexpr int ways = 60;
    constexpr double step = std::numbers::pi / ways;
    std::array<double, ways> sums{};
    Way least;
    for (int k = 0; k < ways; ++k)
        least.length = std::min(least.length, sums[static_cast<std::size_t>(k)] = both(k * step));
    if (least.length == none) return least;
    const double coarse = least.length;
    const auto sum_at = [&](int k) { return sums[static_cast<std::size_t>((k + ways) % ways)]; };
    for (int k = 0; k < ways; ++k) {
        if (sum_at(k) > 1.1 * coarse) continue; // between two ways the sum falls by less
        if (sum_at(k) > sum_at(k - 1) || sum_at(k) > sum_at(k + 1)) continue; // it falls towards a neighbour
        double at = k * step, here = sum_at(k);
        for (double by = step / 2; by > 1e-7; by /= 2) {
            const double left = both(at - by), right = both(at + by);
            if (left < here && left <= right)
                at -= by, here = left;
            else if (right < here)
                at += by, here = right;
        }
        if (here <= least.length) least = {.length = here, .angle = at};
    }
    return least;
}

double greatest_distance(const std::vector<Point>& points) {
    double most = 0;
    for (const Point& a : points)
        for (const Point& b : points) most = std::max(most, length_of(a - b));
    return most;
}

/// Of a convex polygon; none of a point or a line.
double least_width(const std::vector<Point>& hull) {
    if (hull.size() < 3) return 0;
    double least = none;
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const Point edge = hull[(i + 1) % hull.size()] - hull[i];
        const double length = length_of(edge);
        if (!(length > 0)) continue;
        double most = 0;
        for (const Point& p : hull) most = std::max(most, std::abs(cross(edge, p - hull[i])) / length);
        least = std::min(least, most);
    }
    return least == none ? 0 : least;
}

/// Does the place see some point of the support?
bool sees(const std::vector<Rest>& rests, const Rest& rest, Point place) {
    constexpr int parts = 8;
    const auto sees_point = [&](Point s) {
        const double far = length_of(s - place);
        return far <= 0 || circle_ahead(rests, place, (1 / far) * (s - place)) >= far * (1 - 1e-6);
    };
    const Point along = rest.to - rest.from;
    if (const double length = dot(along, along); length > 0) {
        const double share = std::clamp(dot(place - rest.from, along) / length, 0.0, 1.0);
        if (sees_point(rest.from + share * along)) return true;
        for (int k = 0; k <= parts; ++k)
            if (sees_point(rest.from + (static_cast<double>(k) / parts) * along)) return true;
        return false;
    }
    return sees_point(rest.from);
}

/// The longer side of the rectangle with the greatest distance and the least width of the supports that see
/// the place.
double longer_side(const std::vector<Rest>& rests, Point place) {
    std::vector<Point> points;
    for (const Rest& rest : rests)
        if (sees(rests, rest, place)) points.insert(points.end(), {rest.from, rest.to});
    const double far = greatest_distance(points), wide = least_width(convex_hull(points));
    return std::max(std::sqrt(std::max(0.0, far * far - wide * wide)), wide);
}

double between(const std::vector<Rest>& rests, Point place, const WayStiffness& stiffness) {
    if (rests.size() < 2) return 0;
    Way way = shortest_way(rests, place);
    const Point here = way_at(way.angle), square = way_at(way.angle + std::numbers::pi / 2);
    const double other = straight_ahead(rests, place, square) + straight_ahead(rests, place, -1 * square);
    if (way.length > 0 && other < none) { // held on all four sides: two beam strips that cross share the load
        const auto strip = [&](Point along, double length) {
            return (stiffness ? stiffness(along) : 1) / std::pow(length, 4);
        };
        const double one = strip(here, way.length), two = strip(square, other);
        way.length += two / (one + two) * (other - way.length);
    }
    return std::min(way.length, longer_side(rests, place));
}

bool is_inside(const std::vector<Point>& hull, Point p, double slack) {
    if (hull.size() < 3) return false;
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const Point edge = hull[(i + 1) % hull.size()] - hull[i];
        if (cross(edge, p - hull[i]) < -slack * length_of(edge)) return false;
    }
    return true;
}

Point nearest_of(const std::vector<Point>& hull, Point p) {
    Point nearest = hull.front();
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const Point a = hull[i], edge = hull[(i + 1) % hull.size()] - a;
        const double length = dot(edge, edge);
        const Point q = length > 0 ? a + std::clamp(dot(p - a, edge) / length, 0.0, 1.0) * edge : a;
        if (length_of(q - p) < length_of(nearest - p)) nearest = q;
    }
    return nearest;
}

/// How far the way inwards from `place` runs over what the top rests on there.
double rests_for(const std::vector<Rest>& rests, Point place, Point way) {
    double most = 0;
    for (const Rest& rest : rests) {
        double from = none, to = -none;
        for (std::size_t i = 0; i < rest.corners.size(); ++i) {
            const Point a = rest.corners[i] - place, b = rest.corners[(i + 1) % rest.corners.size()] - place;
            const double side_a = cross(way, a), side_b = cross(way, b);
            constexpr double slack = 1e-6; // mm: along an edge, or through a corner
            const auto take = [&](Point p) {
                from = std::min(from, dot(p, way)), to = std::max(to, dot(p, way));
            };
            if (std::abs(side_a) < slack) take(a);
            if (std::abs(side_b) < slack) take(b);
            if (side_a * side_b < 0) take(a + (side_a / (side_a - side_b)) * (b - a));
        }
        if (from <= 1e-3) most = std::max(most, to);
    }
    return most;
}

/// Does the top rest on something at the place, or as good as at it: between the ends of two bearers that
/// meet in a corner, or outside a rail that stands further in than the faces of its legs?
bool is_on(const std::vector<Rest>& rests, Point place) {
    return std::any_of(rests.begin(), rests.end(), [&](const Rest& rest) {
        const Point nearest = nearest_of(rest.corners, place);
        constexpr double near = 60; // mm: a rail set back behind legs of 120 mm
        return length_of(nearest - place) < near;
    });
}

Span span_on(const std::vector<Rest>& rests, Point place, const WayStiffness& stiffness) {
    if (rests.empty()) return {};
    std::vector<Point> corners;
    for (const Rest& rest : rests) corners.insert(corners.end(), rest.corners.begin(), rest.corners.end());
    std::vector<Point> hull = convex_hull(corners);
    if (hull.empty()) hull.push_back(corners.front());
    constexpr double slack = 1; // mm: a sag on the line of the supports is not past them
    Span span;
    if (is_inside(hull, place, slack)) {
        span.span_mm = between(rests, place, stiffness);
        // on a line that holds the top: the room beside it
        for (std::size_t i = 0; i < rests.size() && !(span.span_mm > 1e-6); ++i) {
            const Point along = rests[i].to - rests[i].from;
            const double length = length_of(along);
            if (!(length > 0) || std::abs(cross(along, place - rests[i].from)) > 1e-6 * length) continue;
            for (const double step : {1e-3, -1e-3}) {
                const Point beside = place + (step / length) * Point{-along.y, along.x};
                if (is_inside(hull, beside, 0))
                    span.span_mm = std::max(span.span_mm, between(rests, beside, stiffness));
            }
        }
    } else {
        const Point edge = nearest_of(hull, place);
        const double away = length_of(place - edge);
        span.overhang_mm = away;
        if (away > 0) {
            const Point way = (1 / away) * (edge - place);
            double deep = 0;
            for (const Point& p : hull) deep = std::max(deep, dot(p - edge, way));
            const double rests_there = rests_for(rests, edge, way);
            span.span_mm = std::max(rests_there, between(rests, edge, stiffness));
            constexpr int places = 16;
            // past a support it is the room behind; past the line that joins two feet the top spans along
            // that line
            for (int k = 0; k < places && is_on(rests, edge); ++k) {
                const Point behind = edge + (deep * (k + 0.5) / places) * way;
                if (!is_inside(hull, behind, slack)) break;
                span.span_mm = std::max(span.span_mm, between(rests, behind, stiffness));
            }
        }
    }
    const double spread = greatest_distance(corners);
    if (!(span.span_mm > 1e-6) && !(span.overhang_mm > 1e-6)) span.span_mm = spread;
    span.span_mm = std::min(span.span_mm, spread);
    return span;
}

} // namespace

Span span_at(const std::vector<Support>& supports, Point place, const WayStiffness& stiffness) {
    std::vector<Rest> rests, feet; // feet: a rail stands on its ends
    bool has_rails = false;
    for (const Support& support : supports) {
        const std::optional<Rest> rest = rest_of(support);
        if (!rest) continue;
        rests.push_back(*rest);
        if (!std::holds_alternative<Rail>(support.kind)) {
            feet.push_back(*rest);
            continue;
        }
        has_rails = true;
        for (const Point end : {rest->from, rest->to})
            feet.push_back({.from = end, .to = end, .corners = {end}});
    }
    Span span = span_on(rests, place, stiffness);
    // a rail gives as well, and what it gives is sag: top and rails together span from leg to leg
    if (has_rails) span.span_mm = std::max(span.span_mm, span_on(feet, place, stiffness).span_mm);
    return span;
}

Span KeptSpans::at(Point place) const {
    const std::pair key{place.x, place.y};
    {
        const std::lock_guard lock(guard_);
        if (const auto known = known_.find(key); known != known_.end()) return known->second;
    }
    const Span span = span_at(supports_, place, stiffness_);
    const std::lock_guard lock(guard_);
    return known_.try_emplace(key, span).first->second;
}

} // namespace hollowtop
