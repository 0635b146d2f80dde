// SPDX-License-Identifier: MIT
#include "solver/interface/screw_places.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {

std::vector<double> screw_places(const Stiffener& stiffener) {
    if (!stiffener.screws.at.empty()) {
        std::vector<double> places = stiffener.screws.at;
        std::sort(places.begin(), places.end());
        return places;
    }
    const double length = std::hypot(stiffener.to.x - stiffener.from.x, stiffener.to.y - stiffener.from.y);
    const double spacing = stiffener.screws.spacing;
    if (!(spacing > 0)) return {};
    auto n = static_cast<int>(std::floor(length / spacing + 1e-9));
    constexpr double least_end = 15; // a screw wants some stiffener beyond it
    if (n > 0 && (length - n * spacing) / 2 < std::min(least_end, spacing / 4)) --n;
    std::vector<double> places;
    for (int i = 0; i <= n; ++i) places.push_back((length - n * spacing) / 2 + i * spacing);
    return places;
}

} // namespace hollowtop
