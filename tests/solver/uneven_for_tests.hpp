// SPDX-License-Identifier: MIT
#pragma once
/// \file  Invented recesses whose floor came out uneven: tilted, stepped, gouged. mm.

#include "solver/piece/skin.hpp"
#include "solver/survey/survey.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <array>
#include <cmath>
#include <random>

namespace hollowtop {

/// 1600 x 800 x 40 on four legs, one recess that leaves 18; its box.
inline const Rectangle uneven_well{110, 1490, 110, 690};
inline Piece uneven_top() {
    Piece piece = plain_piece(1600, 800, 40);
    piece.title = "uneven (invented)";
    piece.top.elastic = invented_wood();
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = uneven_well, .corner_radius = 0},
                       .depth = 22,
                       .root_radius = 0,
                       .lands = {}}};
    for (const Point& p : {Point{70, 70}, {1530, 70}, {1530, 730}, {70, 730}})
        piece.supports.push_back(pad(p));
    for (std::size_t k = 0; k < 4; ++k) piece.supports[k].name = "leg " + std::to_string(k + 1);
    piece.loads = {spread(0.0004, Duration::long_term)};
    return piece;
}

/// A skin that was meant to be 18.
struct UnevenSkinDrawn {
    double level = 17, tilt_x = 0, tilt_y = 0; ///< tilts from side to side
    double step = 0, step_at = 800, step_along_y = 0;
    struct Gouge {
        Point at;
        double depth, radius;
    };
    std::vector<Gouge> gouges{};

    double operator()(Point p) const {
        const double x = (p.x - 800) / 1380, y = (p.y - 400) / 580;
        double t = level + tilt_x * x + tilt_y * y;
        // a pass of the router with the stop slipped: the step is as wide as a cutter's corner
        const double beyond = p.x - step_at - step_along_y * (p.y - 400);
        t -= step / (1 + std::exp(-beyond / 8));
        for (const Gouge& g : gouges) {
            const double far = std::hypot(p.x - g.at.x, p.y - g.at.y) / g.radius;
            t -= g.depth * std::exp(-far * far);
        }
        return t;
    }
};

/// The level as a slipped stop leaves it, 0.5 to 1.5 under the drawing.
inline UnevenSkinDrawn invented_skin(unsigned seed) {
    std::mt19937 random(seed);
    const auto within = [&](double low, double high) {
        return low + (high - low) * (static_cast<double>(random()) / 4294967296.0);
    };
    UnevenSkinDrawn skin;
    skin.level = within(16.5, 17.5);
    skin.tilt_x = within(-1.2, 1.2);
    skin.tilt_y = within(-0.8, 0.8);
    skin.step = within(-0.5, 0.5);
    skin.step_at = within(500, 1100);
    skin.step_along_y = within(-0.5, 0.5);
    for (int k = 0; k < 2; ++k)
        skin.gouges.push_back({{within(250, 1350), within(200, 600)}, within(0.3, 0.8), within(60, 150)});
    return skin;
}

/// As a maker gauges: on a grid, not to the millimetre; each off by `noise`.
inline std::vector<Reading> invented_readings(const UnevenSkinDrawn& skin, int nx, int ny, double noise,
                                              unsigned seed) {
    std::mt19937 random(seed + 1000);
    std::normal_distribution<double> error(0, 1);
    std::vector<Reading> readings;
    const Rectangle& b = uneven_well;
    for (int j = 0; j < ny; ++j)
        for (int i = 0; i < nx; ++i) {
            const Point at{b.x0 + (b.x1 - b.x0) * (i + 0.5) / nx + 12 * error(random),
                           b.y0 + (b.y1 - b.y0) * (j + 0.5) / ny + 12 * error(random)};
            readings.push_back({.at = at, .thickness = skin(at) + noise * error(random)});
        }
    return readings;
}

/// The skin itself, on a fine grid.
inline Piece with_skin(Piece piece, const UnevenSkinDrawn& skin) {
    SkinGrid grid{.box = uneven_well, .nx = 185, .ny = 79, .thickness = {}};
    double sum = 0;
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const Rectangle& b = grid.box;
            grid.thickness.push_back(
                skin({b.x0 + (b.x1 - b.x0) * i / (grid.nx - 1), b.y0 + (b.y1 - b.y0) * j / (grid.ny - 1)}));
            sum += grid.thickness.back();
        }
    const double mean = sum / static_cast<double>(grid.thickness.size());
    give_skin(piece.recesses.front(), piece.top, std::move(grid), mean);
    return piece;
}

} // namespace hollowtop
