// SPDX-License-Identifier: MIT
#pragma once
/// \file  Which of many boxes in plan reach into a place: a grid laid over them all, so that of thousands only a
/// few are asked. mm.

#include "solver/piece/piece.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>
#include <vector>

namespace hollowtop {

/// Of few boxes there is no grid, and all are shown.
struct BoxGrid {
    Rectangle all{};
    int nx = 0, ny = 0;
    std::vector<int> first{},
        boxes{}; ///< of grid cell c: boxes[first[c]] .. boxes[first[c + 1] - 1], ascending
    std::size_t count = 0;
};
BoxGrid box_grid(std::span<const Rectangle> boxes);

/// The grid's cells that a box reaches into, both ends inclusive; what lies beyond the grid is taken to its edge.
struct GridCells {
    int i0 = 0, i1 = 0, j0 = 0, j1 = 0;
};
inline GridCells cells_of(const BoxGrid& grid, const Rectangle& box) {
    const auto place = [](double at, double from, double to, int n) {
        return static_cast<int>(std::clamp(std::floor((at - from) / (to - from) * n), 0.0, n - 1.0));
    };
    return {.i0 = place(box.x0, grid.all.x0, grid.all.x1, grid.nx),
            .i1 = place(box.x1, grid.all.x0, grid.all.x1, grid.nx),
            .j0 = place(box.y0, grid.all.y0, grid.all.y1, grid.ny),
            .j1 = place(box.y1, grid.all.y0, grid.all.y1, grid.ny)};
}

/// Indices of boxes, ascending, each once: all that reach into `box` or touch it, and some that come near. `see` is
/// shown them one by one until it says true; what it said last.
template <class See> bool any_near(const BoxGrid& grid, const Rectangle& box, const See& see) {
    if (grid.nx == 0) {
        for (std::size_t i = 0; i < grid.count; ++i)
            if (see(static_cast<int>(i))) return true;
        return false;
    }
    if (box.x1 < grid.all.x0 || box.x0 > grid.all.x1 || box.y1 < grid.all.y0 || box.y0 > grid.all.y1)
        return false;
    const auto [i0, i1, j0, j1] = cells_of(grid, box);
    const auto of = [&](int i, int j) {
        const auto c = static_cast<std::size_t>(j * grid.nx + i);
        return std::span{grid.boxes}.subspan(static_cast<std::size_t>(grid.first[c]),
                                             static_cast<std::size_t>(grid.first[c + 1] - grid.first[c]));
    };
    if (i0 == i1 && j0 == j1) {
        const auto here = of(i0, j0);
        return std::any_of(here.begin(), here.end(), see);
    }
    std::vector<int> found;
    for (int j = j0; j <= j1; ++j)
        for (int i = i0; i <= i1; ++i) {
            const auto here = of(i, j);
            found.insert(found.end(), here.begin(), here.end());
        }
    std::sort(found.begin(), found.end());
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return std::any_of(found.begin(), found.end(), see);
}

} // namespace hollowtop
