// SPDX-License-Identifier: MIT
#include "solver/survey/sheet.hpp"

#include "solver/survey/sift.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {

std::vector<SheetPoint> sheet_points(const Piece& piece, double foot) {
    constexpr double widest = 200,
                     near_wall =
                         25; // mm: 150 to 200 apart; a skin is thinnest along a wall that was routed twice
    const ThicknessField field = thickness_field(piece, {}, false);
    std::vector<SheetPoint> points;
    const auto letter = [](std::size_t row) {
        return row < 26 ? std::string(1, static_cast<char>('A' + row))
                        : std::string(1, static_cast<char>('A' + row / 26 - 1)) +
                              static_cast<char>('A' + row % 26);
    };
    std::size_t row = 0;
    for (std::size_t r = 0; r < field.recesses.size(); ++r) {
        const RecessPlan& recess = field.recesses[r];
        const Rectangle b = bounds_of(recess.loop);
        const double in = std::min({std::max(near_wall, 2 * foot), (b.x1 - b.x0) / 4, (b.y1 - b.y0) / 4});
        // an even number of steps: the middle is one of them
        const auto steps = [&](double length) {
            return 2 * std::max(1, static_cast<int>(std::ceil(length / widest / 2 - 1e-9)));
        };
        const int nx = steps(b.x1 - b.x0 - 2 * in), ny = steps(b.y1 - b.y0 - 2 * in);
        for (int j = 0; j <= ny; ++j) {
            std::size_t column = 0;
            const std::string name = letter(row);
            for (int i = 0; i <= nx; ++i) {
                const Point at{b.x0 + in + (b.x1 - b.x0 - 2 * in) * i / nx,
                               b.y0 + in + (b.y1 - b.y0 - 2 * in) * j / ny};
                bool clear = region_at(field, at) == static_cast<int>(r) + 1 &&
                             is_clear_of_walls(recess.loop, at, 2 * foot);
                for (const Loop& land : recess.lands) clear = clear && is_clear_of_walls(land, at, 2 * foot);
                if (clear) points.push_back({name + std::to_string(++column), static_cast<int>(r), at});
            }
            if (column > 0) ++row;
        }
    }
    const Rectangle box = bounds_of(field.outline);
    const double in = std::max(near_wall, 2 * foot);
    const Point middle{(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    std::size_t k = 0;
    for (const Point at : {Point{box.x0 + in, box.y0 + in},
                           {middle.x, box.y0 + in},
                           {box.x1 - in, box.y0 + in},
                           {box.x1 - in, middle.y},
                           {box.x1 - in, box.y1 - in},
                           {middle.x, box.y1 - in},
                           {box.x0 + in, box.y1 - in},
                           {box.x0 + in, middle.y}})
        if (region_at(field, at) == full_thickness) points.push_back({"rim " + std::to_string(++k), -1, at});
    return points;
}

} // namespace hollowtop
