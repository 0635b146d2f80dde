// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the recesses hold and their covers, drawn into the plan and the sections: dashed, since they
/// are not part of the top.

#include "cli/report/drawing/plan_view.hpp"

#include <functional>

namespace hollowtop::cli {

/// Footprints, and the edge of each cover just inside the walls.
void draw_kept(Svg& svg, const Piece& piece, const View& view);
/// Their names, where they have room in their footprints.
void put_kept_names(Svg& svg, Placer& placer, const Piece& piece, const View& view, double size);

/// How far down, from the top face, things, covers and trims reach in a section; 0 where there are none.
double kept_reach(const Piece& piece);
/// In a section along x (or y) at the other coordinate `line`; `at` gives the place in the picture of a place
/// along it and a depth.
void draw_kept_section(Svg& svg, const Piece& piece, const Plan& plan, bool along_x, double line,
                       const std::function<Point(double along, double depth)>& at);

/// "Dashed: what the recess holds. Dash and dot: its cover."; empty where there is neither.
std::string kept_caption(const Piece& piece);

} // namespace hollowtop::cli
