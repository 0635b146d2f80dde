// SPDX-License-Identifier: MIT
#include "solver/readout/stress_jump.hpp"

#include "solver/shell/recovery.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace hollowtop {
namespace {

/// Are stresses on both sides of a line of the same wood, so that they ought to be one?
bool is_one_section(const StrainMean& a, const StrainMean& b, int region) {
    const auto in_wall_zone = [](const StrainMean& mean) { return mean.parts.front().place.wall >= 0; };
    return !a.parts.empty() && !b.parts.empty() && a.region == region && b.region == region &&
           std::abs(a.thickness - b.thickness) <= 1e-6 * a.thickness && in_wall_zone(a) == in_wall_zone(b);
}

} // namespace

JumpPoints jump_points(const Shell& shell, Point at) {
    constexpr int n_along = 3;
    constexpr double beside = 1e-6; // of the thickness
    const StrainMean here = strain_mean(shell, at, 0);
    JumpPoints points;
    if (here.region == outside) return points;
    const double t = here.thickness;
    const auto look_along = [&](const std::vector<double>& lines, bool is_across_x) {
        const double to = is_across_x ? at.x : at.y;
        const auto own = static_cast<size_t>(interval_of(lines, to));
        for (size_t k = 1; k + 1 < lines.size(); ++k) {
            if (k != own && k != own + 1 && std::abs(lines[k] - to) > t) continue;
            std::vector<JumpPoints::Pair> pairs;
            for (int i = 0; i < n_along; ++i) {
                const double along = t * ((i + 0.5) / n_along - 0.5), step = beside * t;
                const auto side = [&](double off) {
                    return strain_mean(shell,
                                       is_across_x ? Point{lines[k] + off, at.y + along}
                                                   : Point{at.x + along, lines[k] + off},
                                       0);
                };
                StrainMean before = side(-step), after = side(step);
                if (is_one_section(before, after, here.region))
                    pairs.emplace_back(std::move(before), std::move(after));
            }
            if (!pairs.empty()) points.lines.push_back(std::move(pairs));
        }
    };
    look_along(shell.mesh.xs, true);
    look_along(shell.mesh.ys, false);
    return points;
}

StressSample stress_jump(const Shell& shell, const JumpPoints& points, std::span<const double> dofs) {
    StressSample greatest{};
    for (const std::vector<JumpPoints::Pair>& line : points.lines) {
        StressSample sum{};
        const auto add = [](auto& to, const auto& a, const auto& b) {
            for (size_t i = 0; i < to.size(); ++i) to[i] += a[i] - b[i];
        };
        for (const auto& [before, after] : line) {
            const StressSample a = stress_of(shell, before, dofs), b = stress_of(shell, after, dofs);
            add(sum.top, a.top, b.top);
            add(sum.bottom, a.bottom, b.bottom);
            add(sum.shear, a.shear, b.shear);
        }
        const auto raise = [n = static_cast<double>(line.size())](auto& to, const auto& of) {
            for (size_t i = 0; i < to.size(); ++i) to[i] = std::max(to[i], std::abs(of[i]) / n);
        };
        raise(greatest.top, sum.top);
        raise(greatest.bottom, sum.bottom);
        raise(greatest.shear, sum.shear);
    }
    return greatest;
}

} // namespace hollowtop
