// SPDX-License-Identifier: MIT
#include "solver/interface/bed_divisions.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {

void cut_evenly(std::vector<BedDivision>& divisions, double from, double to, int points, double longest) {
    const int n = std::max(1, static_cast<int>(std::ceil((to - from) / longest - 1e-9)));
    for (int k = 0; k < n; ++k)
        divisions.push_back({from + (to - from) * k / n, from + (to - from) * (k + 1) / n, points});
}

std::vector<BedDivision> divisions_across(double from, double to, const BedBending& bending) {
    const double width = to - from;
    std::vector<BedDivision> divisions;
    if (width < (bending.held ? 0.7 : 0.25) * bending.reach) return {{from, to, 2}};
    if (bending.held) {
        if (width < 2 * bending.reach) {
            cut_evenly(divisions, from, to, 2, width / 2);
            return divisions;
        }
        // the pressure dies out from both edges in waves
        const double edge = std::min(0.7 * bending.reach, 0.2 * width);
        divisions.push_back({from, from + edge, 2});
        cut_evenly(divisions, from + edge, to - edge, 2, 3 * bending.reach);
        divisions.push_back({to - edge, to, 2});
        return divisions;
    }
    constexpr double least = 0.3, grow = 3, far_edge = 3, most = 0.8;
    const double first = std::clamp(1.3 * bending.edge, least, 0.25 * width);
    std::vector<double> low, high; // widths from each end
    double taken = 0;
    const auto take = [&](std::vector<double>& side, double division) {
        side.push_back(division);
        taken += division;
    };
    for (auto* side : {&low, &high})
        take(*side, (side == &low ? bending.low_edge : bending.high_edge)
                        ? first
                        : std::min(far_edge * first, 0.25 * width));
    double division = first;
    for (int k = 1; k < bending.divisions; ++k) {
        division *= grow;
        if (taken + division * (bending.low_edge + bending.high_edge) > most * width)
            break; // both or none: mirrored, a bed stays the same
        if (bending.low_edge) take(low, division);
        if (bending.high_edge) take(high, division);
    }
    double at = from;
    for (const double w : low) divisions.push_back({at, at + w, 2}), at += w;
    double end = to;
    for (const double w : high) end -= w;
    cut_evenly(divisions, at, end, end - at < 0.1 * bending.reach ? 1 : 2, 3 * bending.reach);
    std::reverse(high.begin(), high.end());
    for (const double w : high) divisions.push_back({end, end + w, 2}), end += w;
    return divisions;
}

std::vector<BedDivision> divisions_along(double from, double to, const BedBending& bending) {
    constexpr double end = 25, longest = 80, short_bed = 120;
    if (to - from < short_bed) return divisions_across(from, to, bending);
    std::vector<BedDivision> divisions{{from, from + end, 2}};
    cut_evenly(divisions, from + end, to - end, 2, longest);
    divisions.push_back({to - end, to, 2});
    return divisions;
}

} // namespace hollowtop
