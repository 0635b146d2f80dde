// SPDX-License-Identifier: MIT
#pragma once
/// \file  A small invented piece that several tests vary.

#include "solver/piece/piece.hpp"

namespace hollowtop {

/// A small solid-rimmed tray on four pads, quick to check.
inline Piece tray() {
    Piece piece;
    piece.title = "tray";
    piece.top.length = 600;
    piece.top.width = 300;
    piece.top.thickness = 20;
    piece.top.wood = "cherry_black";
    piece.top.outline = RectangleShape{.box = {0, 600, 0, 300}, .corner_radius = 0};
    piece.recesses.push_back({.name = "well",
                              .shape = RectangleShape{.box = {80, 520, 60, 240}, .corner_radius = 0},
                              .depth = 8,
                              .root_radius = 0,
                              .lands = {}});
    for (const Point at : {Point{30, 30}, Point{570, 30}, Point{30, 270}, Point{570, 270}})
        piece.supports.push_back(
            {.name = "pad",
             .kind = Pad{.at = at, .size_x = 40, .size_y = 40, .hold_down = true, .stiffness = {}}});
    piece.loads.push_back(
        {.name = "pot",
         .duration = Duration::short_term,
         .kind = PatchLoad{
             .force = 300, .at = {300, 150}, .size_x = 80, .size_y = 80, .travels = false, .over = {}}});
    return piece;
}

} // namespace hollowtop
