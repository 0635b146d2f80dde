// SPDX-License-Identifier: MIT
#pragma once
/// \file  A small invented top, and a coarse model of it, for the tests of the analysis.

#include "solver/model/make_model.hpp"
#include "solver/model/model.hpp"
#include "tests/solver/shell_for_tests.hpp"

namespace hollowtop {

inline Elastic invented_wood() {
    return {.E1 = 11000, .E2 = 800, .nu12 = 0.37, .G12 = 750, .G13 = 700, .G23 = 90, .density_kg_m3 = 650};
}

/// 1000 x 600 x 30 on nothing, under nothing.
inline Piece invented_top() {
    Piece piece = plain_piece(1000, 600, 30);
    piece.top.elastic = invented_wood();
    piece.self_weight = false;
    return piece;
}

inline Support pad(Point at, double size = 60, bool hold_down = false, std::optional<double> stiffness = {}) {
    return {.name = "pad",
            .kind = Pad{
                .at = at, .size_x = size, .size_y = size, .hold_down = hold_down, .stiffness = stiffness}};
}
inline Support edge(Point from, Point to, bool hold_down = false) {
    return {.name = "edge",
            .kind = Bearer{.from = from, .to = to, .width = 0, .hold_down = hold_down, .stiffness = {}}};
}
inline Load spread(double pressure, Duration duration = Duration::short_term) {
    return {.name = "spread", .duration = duration, .kind = AreaLoad{.pressure = pressure, .over = {}}};
}
inline Load patch_of(double force, Point at, double size_x, double size_y,
                     Duration duration = Duration::short_term) {
    return {.name = "patch",
            .duration = duration,
            .kind = PatchLoad{.force = force, .at = at, .size_x = size_x, .size_y = size_y, .over = {}}};
}

inline ModelOptions coarse(int order = 3) {
    return {
        .shell = {.size = {.largest = 150, .at_walls = 40, .at_edges = 75, .growth = 0.8}, .order = order},
        .threads = 1};
}

} // namespace hollowtop
