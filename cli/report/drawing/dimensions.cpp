// SPDX-License-Identifier: MIT
#include "cli/report/drawing/dimensions.hpp"

#include "cli/report/drawing/colours.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

const Look thin{.stroke = ink::line, .width = 0.8};
constexpr double tick = 3.2;

void ticked(Svg& svg, Point at) {
    svg.line({at.x - tick, at.y + tick}, {at.x + tick, at.y - tick}, {.stroke = ink::text, .width = 1});
}

/// Sorted, and what lies closer than half a millimetre made one.
std::vector<double> in_order(std::vector<double> places) {
    std::sort(places.begin(), places.end());
    std::vector<double> kept;
    for (const double p : places)
        if (kept.empty() || p - kept.back() > 0.5) kept.push_back(p);
    return kept;
}

Lettering figure_lettering(double size) {
    return {.size = size, .anchor = Anchor::middle, .halo = ink::paper};
}

} // namespace

void dimension_across(Svg& svg, Placer& placer, double x0, double x1, double y, const std::string& figure,
                      double size) {
    svg.line({x0, y}, {x1, y}, thin);
    ticked(svg, {x0, y});
    ticked(svg, {x1, y});
    const double middle = (x0 + x1) / 2, half = width_of_words(figure, size) / 2;
    std::vector<Point> places{{middle, y - 3}};
    // never beside it, where it would read as its neighbour's; what has no room stands in the table of sizes
    if (x1 - x0 < 2 * half + 4) places.push_back({middle, y + size + 1});
    if (const auto at = placer.place(figure, figure_lettering(size), places))
        svg.text(*at, figure, figure_lettering(size));
}

void dimension_upright(Svg& svg, Placer& placer, double y0, double y1, double x, const std::string& figure,
                       double size) {
    svg.line({x, y0}, {x, y1}, thin);
    ticked(svg, {x, y0});
    ticked(svg, {x, y1});
    Lettering lettering = figure_lettering(size);
    lettering.turn_deg = -90;
    const double middle = (y0 + y1) / 2, half = width_of_words(figure, size) / 2;
    std::vector<Point> places{{x - 3, middle}};
    if (y1 - y0 < 2 * half + 4) places.push_back({x + size + 1, middle});
    if (const auto at = placer.place(figure, lettering, places)) svg.text(*at, figure, lettering);
}

void dimension_chains(Svg& svg, Placer& placer, const View& view, std::vector<double> xs,
                      std::vector<double> ys, const DimensionStyle& style) {
    xs = in_order(std::move(xs));
    ys = in_order(std::move(ys));
    const Box top = view.box(view.bounds);
    const double row = style.size + 8;
    const auto x_of = [&](double x) { return view({x, 0}).x; };
    const auto y_of = [&](double y) { return view({0, y}).y; };
    const auto figure = [&](double mm) { return drawn_length(mm, style.units); };
    const bool parted_x = xs.size() > 2, parted_y = ys.size() > 2;
    const double whole_y = top.y1 + (parted_x ? 2 * row : row), whole_x = top.x0 - (parted_y ? 2 * row : row);
    // The whole first: its figure must have its place.
    dimension_across(svg, placer, x_of(xs.front()), x_of(xs.back()), whole_y, figure(xs.back() - xs.front()),
                     style.size);
    const double low = std::min(y_of(ys.front()), y_of(ys.back())),
                 high = std::max(y_of(ys.front()), y_of(ys.back()));
    dimension_upright(svg, placer, low, high, whole_x, figure(ys.back() - ys.front()), style.size);
    for (const double x : xs) {
        const bool is_end = x == xs.front() || x == xs.back();
        svg.line({x_of(x), top.y1 + 3}, {x_of(x), (is_end ? whole_y : top.y1 + row) + 4},
                 {.stroke = ink::hair, .width = 0.8});
    }
    for (const double y : ys) {
        const bool is_end = y == ys.front() || y == ys.back();
        svg.line({top.x0 - 3, y_of(y)}, {(is_end ? whole_x : top.x0 - row) - 4, y_of(y)},
                 {.stroke = ink::hair, .width = 0.8});
    }
    if (parted_x)
        for (std::size_t i = 0; i + 1 < xs.size(); ++i)
            dimension_across(svg, placer, x_of(xs[i]), x_of(xs[i + 1]), top.y1 + row,
                             figure(xs[i + 1] - xs[i]), style.size);
    if (parted_y)
        for (std::size_t i = 0; i + 1 < ys.size(); ++i) {
            const double a = y_of(ys[i]), b = y_of(ys[i + 1]);
            dimension_upright(svg, placer, std::min(a, b), std::max(a, b), top.x0 - row,
                              figure(ys[i + 1] - ys[i]), style.size);
        }
}

} // namespace hollowtop::cli
