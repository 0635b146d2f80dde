// SPDX-License-Identifier: MIT
#include "solver/piece/box_grid.hpp"

namespace hollowtop {

BoxGrid box_grid(std::span<const Rectangle> boxes) {
    constexpr std::size_t few = 24;
    BoxGrid grid;
    grid.count = boxes.size();
    if (boxes.size() <= few) return grid;
    grid.all = boxes.front();
    for (const Rectangle& b : boxes)
        grid.all = {std::min(grid.all.x0, b.x0), std::max(grid.all.x1, b.x1), std::min(grid.all.y0, b.y0),
                    std::max(grid.all.y1, b.y1)};
    constexpr double least_side = 1e-3; // mm: boxes may all lie on one line
    grid.all.x1 = std::max(grid.all.x1, grid.all.x0 + least_side);
    grid.all.y1 = std::max(grid.all.y1, grid.all.y0 + least_side);
    // about as many cells as boxes, as square as may be
    const double length = grid.all.x1 - grid.all.x0, width = grid.all.y1 - grid.all.y0,
                 side = std::sqrt(length * width / static_cast<double>(boxes.size()));
    constexpr int most = 256;
    grid.nx = std::clamp(static_cast<int>(std::ceil(length / side)), 1, most);
    grid.ny = std::clamp(static_cast<int>(std::ceil(width / side)), 1, most);
    const auto each_cell = [&](const auto& see) {
        for (std::size_t k = 0; k < boxes.size(); ++k) {
            const auto [i0, i1, j0, j1] = cells_of(grid, boxes[k]);
            for (int j = j0; j <= j1; ++j)
                for (int i = i0; i <= i1; ++i)
                    see(static_cast<std::size_t>(j * grid.nx + i), static_cast<int>(k));
        }
    };
    grid.first.assign(static_cast<std::size_t>(grid.nx) * static_cast<std::size_t>(grid.ny) + 1, 0);
    each_cell([&](std::size_t cell, int) { ++grid.first[cell + 1]; });
    for (std::size_t c = 1; c < grid.first.size(); ++c) grid.first[c] += grid.first[c - 1];
    grid.boxes.resize(static_cast<std::size_t>(grid.first.back()));
    std::vector<int> next(grid.first.begin(), grid.first.end() - 1);
    each_cell([&](std::size_t cell, int box) { grid.boxes[static_cast<std::size_t>(next[cell]++)] = box; });
    return grid;
}

} // namespace hollowtop
