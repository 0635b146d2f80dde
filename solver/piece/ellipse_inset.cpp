// SPDX-License-Identifier: MIT
#include "solver/piece/ellipse_inset.hpp"

#include "solver/piece/plane.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace hollowtop {

int chords_for(double radius, double turn, double stray) {
    const double sagitta_share = std::min(1.0, stray / radius);
    return std::max(1, static_cast<int>(std::ceil(std::abs(turn) / (2 * std::acos(1 - sagitta_share)))));
}

std::vector<Point> inset_of_ellipse(const Rectangle& box, double rim, double corner_radius, double stray) {
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
        quarter.push_back(Point{a * std::cos(t), b * std::sin(t)} -
                          (rim / std::hypot(normal.x, normal.y)) * normal);
    }
    quarter.front().y = quarter.back().x = 0;
    const Point centre{(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    std::vector<Point> points;
    const auto add = [&](double x, double y) {
        points.push_back(centre + (rx >= ry ? Point{x, y} : Point{-y, x}));
    };
    for (std::size_t k = 0; k + 1 < quarter.size(); ++k) add(quarter[k].x, quarter[k].y);
    for (std::size_t k = quarter.size() - 1; k > 0; --k) add(-quarter[k].x, quarter[k].y);
    for (std::size_t k = 0; k + 1 < quarter.size(); ++k) add(-quarter[k].x, -quarter[k].y);
    for (std::size_t k = quarter.size() - 1; k > 0; --k) add(quarter[k].x, -quarter[k].y);
    return points;
}

} // namespace hollowtop
