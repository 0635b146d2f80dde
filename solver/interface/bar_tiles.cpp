// SPDX-License-Identifier: MIT
#include "solver/interface/bar_tiles.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

constexpr double glue_stiffness = 1e3; ///< times the wood's own compression: practically rigid

} // namespace

std::vector<BarStretch> cut_evenly(double from, double to, double longest) {
    std::vector<BarStretch> stretches;
    const int n = std::max(1, static_cast<int>(std::ceil((to - from) / longest - 1e-9)));
    stretches.reserve(static_cast<std::size_t>(n));
    for (int k = 0; k < n; ++k)
        stretches.push_back({from + (to - from) * k / n, from + (to - from) * (k + 1) / n});
    return stretches;
}

std::vector<BarStretch> cut_at_screws(double length, const std::vector<double>& screws, double longest,
                                      double widest_seat) {
    constexpr double least_seat = 3;
    std::vector<BarStretch> stretches;
    double done = -length / 2;
    for (size_t k = 0; k < screws.size(); ++k) {
        const double s = screws[k];
        double half = widest_seat;
        if (k > 0) half = std::min(half, (s - screws[k - 1]) / 4);
        if (k + 1 < screws.size()) half = std::min(half, (screws[k + 1] - s) / 4);
        half = std::max(std::min({half, s + length / 2, length / 2 - s}), least_seat);
        const double from = std::max(s - half, -length / 2), to = std::min(s + half, length / 2);
        if (from - done > least_seat)
            for (const BarStretch& piece : cut_evenly(done, from, longest)) stretches.push_back(piece);
        stretches.push_back({from, to, static_cast<int>(k)});
        done = to;
    }
    if (length / 2 - done > least_seat)
        for (const BarStretch& piece : cut_evenly(done, length / 2, longest)) stretches.push_back(piece);
    return stretches;
}

double BarTiles::thickness_at(double s) const {
    const Point at = beam().at(s);
    const double h = local_thickness(field, region_at(field, at), at);
    return h > 0 ? h : field.thickness;
}

int BarTiles::add_column(const BarStretch& stretch, double y, double half_across,
                         std::array<double, 3> direction) const {
    plan.columns.push_back({.tile = {.at = beam().at(stretch.middle(), y),
                                     .area = 4 * stretch.half() * half_across,
                                     .axis = beam().along,
                                     .half_along = stretch.half(),
                                     .half_across = half_across},
                            .direction = direction,
                            .z = -thickness_at(stretch.middle())});
    return static_cast<int>(plan.columns.size()) - 1;
}

InlineVector<BeamForce, 2> BarTiles::spread(const BarStretch& stretch, double y,
                                            std::array<double, 3> force) const {
    InlineVector<BeamForce, 2> forces;
    for (double& f : force) f /= 2;
    for (const double side : {-1.0, 1.0})
        forces.push_back(
            force_on(beam(), stretch.middle() + side * stretch.half() / std::sqrt(3.0), y, 0, force));
    return forces;
}

double BarTiles::compliance_of(const BarStretch& stretch, double area) const {
    return thickness_at(stretch.middle()) / (modulus * area);
}

Connection BarTiles::contact(const BarStretch& stretch, int column, double y, double area) const {
    return {.kind = ConnectionKind::contact,
            .beam = beam_index,
            .top = {{column, 1}},
            .on_beam = spread(stretch, y, {0, 0, -1}),
            .compliance = compliance_of(stretch, area),
            .creep = 1,
            .two_sided = false,
            .at = beam().at(stretch.middle(), y),
            .s = stretch.middle(),
            .area = area};
}

Connection BarTiles::bond(const BarStretch& stretch, int column, double y, double area,
                          std::array<double, 3> on_bar) const {
    return {.kind = ConnectionKind::bond,
            .beam = beam_index,
            .top = {{column, 1}},
            .on_beam = spread(stretch, y, on_bar),
            .compliance = compliance_of(stretch, area) / glue_stiffness,
            .creep = 1,
            .two_sided = true,
            .at = beam().at(stretch.middle(), y),
            .s = stretch.middle(),
            .area = area};
}

} // namespace hollowtop
