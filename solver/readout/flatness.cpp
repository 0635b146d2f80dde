// SPDX-License-Identifier: MIT
#include "solver/readout/flatness.hpp"

#include "solver/shell/movement_form.hpp"
#include "solver/shell/recovery.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <vector>

namespace hollowtop {
namespace {

constexpr double step_mm = straightedge_mm / 16;
constexpr double inside_by = 1e-3; // mm: lines along an edge run this far inside it
constexpr double fine_enough = 0.01;

/// A face seen along one direction: places are how far along it and how far aside.
struct View {
    const Loop& outline;
    Point way{};
    const std::function<double(Point)>& upward;

    Point at(double along, double aside) const {
        return {along * way.x - aside * way.y, along * way.y + aside * way.x};
    }
    double along(Point p) const { return p.x * way.x + p.y * way.y; }
    double aside(Point p) const { return p.y * way.x - p.x * way.y; }
    bool is_on(double a, double c) const { return is_inside(outline, at(a, c)); }
    double height(double a, double c) const { return upward(at(a, c)); }
};

struct Stretch {
    double from = 0, to = 0;
};

/// Between a place on the top and one off it, the last that is on it.
double edge_between(const View& view, double on, double off, double c) {
    for (int k = 0; k < 40 && std::abs(off - on) > inside_by / 4; ++k) {
        const double middle = (on + off) / 2;
        (view.is_on(middle, c) ? on : off) = middle;
    }
    return on;
}

/// The top's own stretch of a line about a place on it.
Stretch stretch_about(const View& view, double a, double c, Stretch all) {
    Stretch found{a, a};
    const auto reach = [&](double by) {
        double on = a;
        while (on > all.from - step_mm && on < all.to + step_mm) {
            if (!view.is_on(on + by, c)) return edge_between(view, on, on + by, c);
            on += by;
        }
        return on;
    };
    found.from = reach(-step_mm);
    found.to = reach(step_mm);
    return found;
}

/// A straightedge that starts at `from` on the line `aside`, and a place on it.
struct Laid {
    double aside = 0, from = 0, to = 0, at = 0;
    double gap = 0; ///< chord over face +
};

double gap_of(const View& view, const Laid& laid) {
    const double length = laid.to - laid.from;
    if (!(length > 0)) return 0;
    const double share = (laid.at - laid.from) / length;
    return (1 - share) * view.height(laid.from, laid.aside) + share * view.height(laid.to, laid.aside) -
           view.height(laid.at, laid.aside);
}

/// The best on one stretch of a line, on its places.
Laid best_on(const View& view, Stretch stretch, double c) {
    const double length = stretch.to - stretch.from;
    const auto n = std::max<std::size_t>(8, static_cast<std::size_t>(std::ceil(length / step_mm)));
    const double step = length / static_cast<double>(n);
    const std::size_t reach =
        length <= straightedge_mm
            ? n
            : std::max<std::size_t>(1, static_cast<std::size_t>(straightedge_mm / step));
    std::vector<double> height;
    height.reserve(n + 1);
    for (std::size_t i = 0; i <= n; ++i)
        height.push_back(view.height(stretch.from + static_cast<double>(i) * step, c));
    Laid best{.aside = c, .from = stretch.from, .to = stretch.to, .at = stretch.from};
    for (std::size_t i = 0; i + reach <= n; ++i)
        for (std::size_t k = 1; k < reach; ++k) {
            const double share = static_cast<double>(k) / static_cast<double>(reach);
            const double gap = (1 - share) * height[i] + share * height[i + reach] - height[i + k];
            if (std::abs(gap) <= std::abs(best.gap)) continue;
            best = {.aside = c,
                    .from = stretch.from + static_cast<double>(i) * step,
                    .to = stretch.from + static_cast<double>(i + reach) * step,
                    .at = stretch.from + static_cast<double>(i + k) * step,
                    .gap = gap};
        }
    return best;
}

/// Moves the straightedge along itself and aside, and the place along it, as long as the gap grows.
Laid refined(const View& view, Laid laid, Stretch all, Stretch aside) {
    const double sign = laid.gap < 0 ? -1 : 1;
    double start = laid.from,
           share = laid.to > laid.from ? (laid.at - laid.from) / (laid.to - laid.from) : 0.5;
    const auto lay = [&](double c, double from, double s) -> std::optional<Laid> {
        if (c < aside.from || c > aside.to || s < 0 || s > 1) return std::nullopt;
        const double seed =
            std::clamp(from + s * std::min(straightedge_mm, laid.to - laid.from), all.from, all.to);
        if (!view.is_on(seed, c)) return std::nullopt;
        const Stretch room = stretch_about(view, seed, c, all);
        const double length = std::min(straightedge_mm, room.to - room.from);
        Laid tried{.aside = c, .from = std::clamp(from, room.from, room.to - length)};
        tried.to = tried.from + length;
        tried.at = tried.from + s * length;
        tried.gap = gap_of(view, tried);
        return tried;
    };
    if (const auto whole = lay(laid.aside, start, share); whole && sign * whole->gap > sign * laid.gap)
        laid = *whole; // its true length
    double step = step_mm;
    while (step > fine_enough) {
        bool better = false;
        const double part = step / straightedge_mm;
        for (const auto& [dc, da, ds] : {std::array{step, 0.0, 0.0},
                                         {-step, 0.0, 0.0},
                                         {0.0, step, 0.0},
                                         {0.0, -step, 0.0},
                                         {0.0, 0.0, part},
                                         {0.0, 0.0, -part}}) {
            const double length = laid.to - laid.from;
            const auto tried = lay(laid.aside + dc, laid.from + da,
                                   (length > 0 ? (laid.at - laid.from) / length : 0.5) + ds);
            if (tried && sign * tried->gap > sign * laid.gap + 1e-12 * std::abs(laid.gap))
                laid = *tried, better = true;
        }
        if (!better) step /= 2;
    }
    return laid;
}

/// The greatest gap along one direction.
Flatness along(const View& view) {
    Stretch all{1e300, -1e300}, aside{1e300, -1e300};
    for (const EdgePiece& piece : view.outline) {
        constexpr int places = 16; // a curved piece reaches past its ends
        for (int k = 0; k <= places; ++k) {
            const Point p = point_on(piece, static_cast<double>(k) / places);
            all = {std::min(all.from, view.along(p)), std::max(all.to, view.along(p))};
            aside = {std::min(aside.from, view.aside(p)), std::max(aside.to, view.aside(p))};
        }
    }
    aside = {aside.from + inside_by, aside.to - inside_by};
    const auto n_lines = std::max(8, static_cast<int>(std::ceil((aside.to - aside.from) / step_mm)));
    std::vector<Laid> found;
    for (int line = 0; line <= n_lines; ++line) {
        const double c = aside.from + (aside.to - aside.from) * line / n_lines;
        for (double a = all.from + step_mm / 2; a < all.to; a += step_mm) {
            if (!view.is_on(a, c)) continue;
            const Stretch stretch = stretch_about(view, a, c, all);
            if (stretch.to - stretch.from > inside_by) found.push_back(best_on(view, stretch, c));
            a = std::max(a, stretch.to);
        }
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const Laid& a, const Laid& b) { return std::abs(a.gap) > std::abs(b.gap); });
    constexpr std::size_t most_starts = 4;
    constexpr double worth_a_start = 0.8, apart = 3 * step_mm;
    std::vector<Laid> starts;
    for (const Laid& laid : found) {
        if (starts.size() == most_starts || std::abs(laid.gap) < worth_a_start * std::abs(found.front().gap))
            break;
        if (std::none_of(starts.begin(), starts.end(), [&](const Laid& s) {
                return std::hypot(s.aside - laid.aside, s.at - laid.at) < apart;
            }))
            starts.push_back(laid);
    }
    Flatness most;
    for (const Laid& start : starts) {
        const Laid best = refined(view, start, all, aside);
        constexpr double alike = 1e-7; // mirror images differ by rounding: the first of them is told
        if (std::abs(best.gap) > (1 + alike) * std::abs(most.value_mm))
            most = {.value_mm = best.gap,
                    .at = view.at(best.at, best.aside),
                    .from = view.at(best.from, best.aside),
                    .to = view.at(best.to, best.aside)};
    }
    return most;
}

} // namespace

Flatness flatness_of(const Loop& outline, double grain_rad, const std::function<double(Point)>& upward) {
    const Point grain{std::cos(grain_rad), std::sin(grain_rad)};
    const Flatness with = along({.outline = outline, .way = grain, .upward = upward});
    const Flatness across = along({.outline = outline, .way = {-grain.y, grain.x}, .upward = upward});
    return std::abs(across.value_mm) > std::abs(with.value_mm) ? across : with;
}

Flatness flatness_of(const Shell& shell, std::span<const double> dofs) {
    return flatness_of(shell.field.outline, shell.plane.grain_rad,
                       [&](Point p) { return movement_at(shell, dofs, p); });
}

} // namespace hollowtop
