// SPDX-License-Identifier: MIT
#include "solver/situations/tipping.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

double cross(Point o, Point a, Point b) { return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x); }

/// Moment of a resultant that holds the top down about the hull's edge a-b (counter-clockwise hull: inside is
/// left).
double holding(Point a, Point b, const Resultant& r) {
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    return ((b.x - a.x) * (r.y_moment - r.force * a.y) - (b.y - a.y) * (r.x_moment - r.force * a.x)) / length;
}

constexpr double gamma_G_holds = 0.9, gamma_G_tips = 1.1,
                 gamma_Q_equ = 1.5;         // EN 1990:2002 table A1.2(A), from memory
constexpr double reserve_by_handbook = 1.5; // judgement

/// About one edge: what of a situation holds the top down, what of it harms without leading, and what leads.
struct Moments {
    double holds = 0, harms = 0, turns = 0;
};

Moments moments_about(Point a, Point b, std::span<const TippingLoad> loads, const TippingFormat& format) {
    Moments all;
    for (const TippingLoad& load : loads) {
        const double moment = holding(a, b, load.of);
        if (load.leads)
            all.turns += std::max(-moment, 0.0);
        else if (moment < 0)
            all.harms -= moment * (load.is_permanent ? format.harms
                                                     : format.others * (format.with_psi_0 ? load.psi_0 : 1));
        else if (load.is_permanent)
            all.holds += format.helps * moment;
    }
    return all;
}

/// Each edge of the hull; a single line tips either way.
template <class See> void each_edge(const std::vector<Point>& hull, const See& see) {
    const size_t edges = hull.size() == 2 ? 2 : hull.size();
    for (size_t k = 0; k < edges; ++k) see(hull[k], hull[(k + 1) % hull.size()]);
}

double rounding_of(const std::vector<Point>& hull, std::span<const TippingLoad> loads) {
    double force = 0;
    for (const TippingLoad& load : loads) force += std::abs(load.of.force);
    return 1e-9 * std::hypot(hull[0].x - hull[1].x, hull[0].y - hull[1].y) * force;
}

} // namespace

TippingFormat tipping_format(AllowablesBasis basis, LoadFor judged_for) {
    const bool is_test = judged_for != LoadFor::everyday;
    if (basis == AllowablesBasis::handbook)
        return {.needed = is_test ? 1 : reserve_by_handbook, .standing_needed = reserve_by_handbook};
    return {.helps = gamma_G_holds,
            .harms = gamma_G_tips,
            .others = gamma_Q_equ,
            .with_psi_0 = true,
            .needed = is_test ? 1 : gamma_Q_equ};
}

bool is_within(const std::vector<Point>& hull, Point p) {
    constexpr double beside = 1; // mm
    if (hull.size() < 3) return false;
    for (size_t k = 0; k < hull.size(); ++k) {
        const Point a = hull[k], b = hull[(k + 1) % hull.size()];
        if (cross(a, b, p) < -beside * std::hypot(b.x - a.x, b.y - a.y)) return false;
    }
    return true;
}

std::vector<Point> clipped(const std::vector<Point>& polygon, const std::vector<Point>& by) {
    std::vector<Point> left = polygon;
    for (size_t k = 0; k < by.size(); ++k) {
        const Point a = by[k], b = by[(k + 1) % by.size()];
        const std::vector<Point> before = std::move(left);
        left.clear();
        for (size_t i = 0; i < before.size(); ++i) {
            const Point p = before[i], q = before[(i + 1) % before.size()];
            const double at_p = cross(a, b, p), at_q = cross(a, b, q);
            if (at_p >= 0) left.push_back(p);
            if ((at_p > 0 && at_q < 0) || (at_p < 0 && at_q > 0)) {
                const double share = at_p / (at_p - at_q);
                left.push_back({p.x + share * (q.x - p.x), p.y + share * (q.y - p.y)});
            }
        }
    }
    return left;
}

std::vector<Point> convex_hull(std::vector<Point> points) {
    std::sort(points.begin(), points.end(),
              [](Point a, Point b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
    points.erase(std::unique(points.begin(), points.end()), points.end());
    if (points.size() < 3) return points;
    std::vector<Point> hull;
    for (const bool upper : {false, true}) {
        const size_t start = hull.size();
        const auto add = [&](Point p) {
            while (hull.size() >= start + 2 && cross(hull[hull.size() - 2], hull.back(), p) <= 1e-9)
                hull.pop_back();
            hull.push_back(p);
        };
        if (upper)
            std::for_each(points.rbegin(), points.rend(), add);
        else
            std::for_each(points.begin(), points.end(), add);
        hull.pop_back();
    }
    return hull;
}

std::optional<Tipping> tipping_of(const std::vector<Point>& hull, const Resultant& standing,
                                  const Resultant& passing) {
    if (hull.size() < 2) {
        if (hull.empty()) return std::nullopt;
        return Tipping{.from = hull.front(), .to = hull.front(), .factor = 0};
    }
    std::optional<Tipping> first;
    const double scale = 1e-9 * std::hypot(hull[0].x - hull[1].x, hull[0].y - hull[1].y) *
                         (standing.force + std::abs(passing.force));
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

std::optional<Tipping> tipping_of(const std::vector<Point>& hull, std::span<const TippingLoad> loads,
                                  const TippingFormat& format) {
    if (hull.size() < 2) {
        if (hull.empty()) return std::nullopt;
        return Tipping{.from = hull.front(), .to = hull.front(), .factor = 0};
    }
    std::optional<Tipping> first;
    const double rounding = rounding_of(hull, loads);
    each_edge(hull, [&](Point a, Point b) {
        const Moments about = moments_about(a, b, loads, format);
        const double keeps = about.holds - about.harms;
        if (about.turns <= rounding && keeps >= -rounding) return;
        const double factor = keeps <= 0 ? 0 : keeps / about.turns;
        if (!first || factor < first->factor) first = Tipping{.from = a, .to = b, .factor = factor};
    });
    return first;
}

std::optional<Tipping> standing_tipping_of(const std::vector<Point>& hull, std::span<const TippingLoad> loads,
                                           const TippingFormat& format) {
    if (hull.size() < 2) return std::nullopt;
    std::vector<TippingLoad> standing(loads.begin(), loads.end());
    for (TippingLoad& load : standing) load.leads = false;
    std::optional<Tipping> first;
    const double rounding = rounding_of(hull, loads);
    each_edge(hull, [&](Point a, Point b) {
        const Moments about = moments_about(a, b, standing, format);
        if (about.harms <= rounding) return;
        const double factor = about.holds / about.harms;
        if (!first || factor < first->factor) first = Tipping{.from = a, .to = b, .factor = factor};
    });
    return first;
}

} // namespace hollowtop
