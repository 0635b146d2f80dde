// SPDX-License-Identifier: MIT
#include "solver/interface/levels.hpp"

#include <algorithm>

namespace hollowtop {

std::vector<Point> level_samples(Point middle, Point axis, double half_along, double half_across) {
    constexpr int n = 8;
    std::vector<Point> samples;
    for (int i = 0; i < n; ++i)
        for (int j = 0; j < n; ++j) {
            const double p = half_along * ((2 * i + 1.0) / n - 1), q = half_across * ((2 * j + 1.0) / n - 1);
            samples.push_back({middle.x + p * axis.x - q * axis.y, middle.y + p * axis.y + q * axis.x});
        }
    return samples;
}

std::vector<LevelStretch> levels_along(const ThicknessField& field, Point centre, Point axis, double half) {
    constexpr int samples = 400;
    constexpr double sure = 1e-4; // mm
    const auto region = [&](double s) {
        return std::max(region_at(field, {centre.x + s * axis.x, centre.y + s * axis.y}), full_thickness);
    };
    std::vector<LevelStretch> stretches;
    double from = -half, before = -half * (1 - 1e-9);
    int here = region(before);
    for (int k = 1; k <= samples; ++k) {
        const double s = half * (2.0 * k / samples - 1) * (1 - 1e-9);
        const int next = region(s);
        if (next != here) {
            double low = before, high = s;
            while (high - low > sure) {
                const double middle = (low + high) / 2;
                (region(middle) == here ? low : high) = middle;
            }
            stretches.push_back({from, (low + high) / 2, here});
            from = (low + high) / 2;
            here = next;
        }
        before = s;
    }
    stretches.push_back({from, half, here});
    return stretches;
}

} // namespace hollowtop
