// SPDX-License-Identifier: MIT
#include "solver/section/wall_along.hpp"

#include "solver/section/wall_submodel.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {

std::array<double, 3> layer_work(double skin, double zone, const AlongCompliance& compliance) {
    // turning b beside the wall, about each part's own axis: M = D (b' - 2 twist), M' = S b; b0 at the wall,
    // b1 at the zone's end
    const double D_skin = skin * skin * skin / 12, D_rim = 1.0 / 12, S = 5.0 / 6, lever = (1 - skin) / 2;
    const auto layer = [](double h) { return h * h * std::sqrt(5.0 / 72); }; // sqrt(D S)
    // in the zone b' = 2 twist + c M + g N, M about the rim's axis
    const double c = 1 / D_rim + compliance.MM / zone, g = (compliance.NM - lever * compliance.MM) / zone;
    const double rest = (compliance.NN - 2 * lever * compliance.NM + lever * lever * compliance.MM) / zone;
    const double length = 1 / std::sqrt(c * S), share = zone / length;
    const double stiff = 1 / (c * length * std::sinh(share));
    const double k00 = layer(skin) + stiff * std::cosh(share), k01 = -stiff,
                 k11 = layer(1) + stiff * std::cosh(share);
    const double det = k00 * k11 - k01 * k01;
    struct Forces {
        double at_wall, at_end, own;
    };
    const std::array<Forces, 2> of{{{-lever - g / c, g / c, g}, {2 * D_skin - 2 / c, 2 / c - 2 * D_rim, 2}}};
    const auto work = [&](const Forces& a, const Forces& b) {
        return (a.at_wall * (k11 * b.at_wall - k01 * b.at_end) +
                a.at_end * (k00 * b.at_end - k01 * b.at_wall)) /
                   det -
               zone * a.own * b.own / c;
    };
    return {work(of[0], of[0]) + zone * rest, work(of[0], of[1]), work(of[1], of[1]) + 4 * D_rim * zone};
}

AlongCompliance wall_along(const PlaneStiffness& plane, double thick, double skin, Point across,
                           double zone) {
    const auto [G_across, G_through] = shear_along(plane, across);
    const double ratio = skin / thick, width = zone / thick * std::sqrt(G_through / G_across);
    const std::array<double, 3> solid = work_along_wall(ratio);
    AlongCompliance compliance;
    // the twist's own work grows with MM alone
    const auto twist_work = [&](double MM) {
        return layer_work(ratio, width, {.NN = 0, .NM = 0, .MM = MM})[2];
    };
    if (twist_work(0) < solid[2]) {
        double low = 0, high = 1;
        while (twist_work(high) < solid[2] && high < 1e6) high *= 4;
        for (int k = 0; k < 60; ++k) {
            const double middle = (low + high) / 2;
            (twist_work(middle) < solid[2] ? low : high) = middle;
        }
        compliance.MM = low;
    }
    // the mixed work is linear in NM, the flow's own in NN
    const double mixed = layer_work(ratio, width, compliance)[1];
    compliance.NM = 1;
    const double slope = layer_work(ratio, width, compliance)[1] - mixed;
    compliance.NM = slope == 0 ? 0 : (solid[1] - mixed) / slope;
    compliance.NN = solid[0] - layer_work(ratio, width, compliance)[0];
    const double G = std::sqrt(G_across * G_through);
    return {.NN = compliance.NN / G,
            .NM = compliance.NM / (G * thick),
            .MM = compliance.MM / (G * thick * thick)};
}

} // namespace hollowtop
