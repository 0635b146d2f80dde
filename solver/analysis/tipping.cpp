// SPDX-License-Identifier: MIT
#include "solver/analysis/tipping.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

double cross(Point o, Point a, Point b) { return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x); }

/// Moment of a resultant that holds the top down about the hull's edge a-b (counter-clockwise hull: inside is left).
double holding(Point a, Point b, const Resultant& r) {
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    return ((b.x - a.x) * (r.y_moment - r.force * a.y) - (b.y - a.y) * (r.x_moment - r.force * a.x)) / length;
}

} // namespace

std::vector<Point> convex_hull(std::vector<Point> points) {
    std::sort(points.begin(), points.end(), [](Point a, Point b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
    points.erase(std::unique(points.begin(), points.end()), points.end());
    if (points.size() < 3) return points;
    std::vector<Point> hull;
    for (const bool upper : {false, true}) {
        const size_t start = hull.size();
        const auto add = [&](Point p) {
            while (hull.size() >= start + 2 && cross(hull[hull.size() - 2], hull.back(), p) <= 1e-9) hull.pop_back();
            hull.push_back(p);
        };
        if (upper) std::for_each(points.rbegin(), points.rend(), add);
        else std::for_each(points.begin(), points.end(), add);
        hull.pop_back();
    }
    return hull;
}

std::optional<Tipping> tipping_of(const std::vector<Point>& hull, const Resultant& standing, const Resultant& passing) {
    if (hull.size() < 2) {
        if (hull.empty()) return std::nullopt;
        return Tipping{.from = hull.front(), .to = hull.front(), .factor = 0};
    }
    std::optional<Tipping> first;
    const double scale = 1e-9 * std::hypot(hull[0].x - hull[1].x, hull[0].y - hull[1].y) * (standing.force + std::abs(passing.force));
    const size_t edges = hull.size() == 2 ? 2 : hull.size(); // a single line tips either way
    for (size_t k = 0; k < edges; ++k) {
        const Point a = hull[k], b = hull[(k + 1) % hull.size()];
        const double keeps = holding(a, b, standing), turns = -holding(a, b, passing);
        if (turns <= scale && keeps >= -scale) continue;
        const double factor = keeps <= 0 ? 0 : keeps / turns;
        if (!first || factor < first->factor) first = Tipping{.from = a, .to = b, .factor = factor};
    }
    return first;
}

} // namespace hollowtop
