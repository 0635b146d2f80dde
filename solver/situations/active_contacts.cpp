// SPDX-License-Identifier: MIT
#include "solver/situations/active_contacts.hpp"

namespace hollowtop {

std::vector<Point> active_hull(const Model& model) {
    std::vector<Point> places;
    for (const ContactPoint& point : model.points) places.push_back(point.at);
    for (int r = 0; r < model.bars.n_rails; ++r) {
        const Beam& rail = model.bars.beams[static_cast<size_t>(r)];
        places.push_back(rail.at(-rail.length / 2));
        places.push_back(rail.at(rail.length / 2));
    }
    return convex_hull(std::move(places));
}

std::optional<double> share_that_stands(const std::vector<Point>& active_hull, const Resultant& standing,
                                        const Resultant& passing) {
    constexpr double a_little_less = 0.999;
    const std::optional<Tipping> tipping = tipping_of(active_hull, standing, passing);
    if (!tipping || tipping->factor > 1) return std::nullopt;
    return a_little_less * tipping->factor;
}

} // namespace hollowtop
