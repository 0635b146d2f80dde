// SPDX-License-Identifier: MIT
#include "solver/piece/skin.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hollowtop {
namespace {

struct Share {
    std::size_t at = 0;
    double share = 0;
};
Share share_of(double x, double from, double to, int n) {
    const double along = std::clamp((x - from) / (to - from), 0.0, 1.0) * (n - 1);
    const int at = std::min(static_cast<int>(along), n - 2);
    return {static_cast<std::size_t>(at), along - at};
}

} // namespace

double thickness_in(const SkinGrid& grid, Point at) {
    const Share x = share_of(at.x, grid.box.x0, grid.box.x1, grid.nx),
                y = share_of(at.y, grid.box.y0, grid.box.y1, grid.ny);
    const double* low = grid.thickness.data() + y.at * static_cast<std::size_t>(grid.nx) + x.at;
    const double* high = low + grid.nx;
    // a + s (b - a): of equal values that value itself
    const double below = low[0] + x.share * (low[1] - low[0]),
                 above = high[0] + x.share * (high[1] - high[0]);
    return below + y.share * (above - below);
}

SkinRange skin_range(const Recess& recess, const Top& top) {
    if (!recess.surveyed) return {skin_of(recess, top), skin_of(recess, top)};
    const auto [low, high] =
        std::minmax_element(recess.surveyed->thickness.begin(), recess.surveyed->thickness.end());
    return {*low, *high};
}

void give_skin(Recess& recess, const Top& top, SkinGrid grid, double mean) {
    const auto [low, high] = std::minmax_element(grid.thickness.begin(), grid.thickness.end());
    recess.surveyed.reset();
    if (*low == *high) mean = *low;
    recess.depth = depth_for_skin(mean, top);
    if (*low < *high) recess.surveyed = std::move(grid);
}

void give_thickness(Piece& piece, SkinGrid grid, double mean) {
    const auto [low, high] = std::minmax_element(grid.thickness.begin(), grid.thickness.end());
    if (*low == *high) mean = *low;
    for (Recess& recess : piece.recesses) recess.depth += mean - piece.top.thickness;
    piece.top.thickness = mean;
    piece.top.surveyed.reset();
    if (*low < *high) piece.top.surveyed = std::move(grid);
}

} // namespace hollowtop
