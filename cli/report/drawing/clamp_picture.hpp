// SPDX-License-Identifier: MIT
#pragma once
/// \file  Clamps at the edge, drawn into the plan from below.

#include "cli/report/drawing/plan_view.hpp"

namespace hollowtop::cli {

/// Of each its lower pad, the upper one dotted, and an arrow towards what hangs on it.
void draw_clamps(Svg& svg, const Piece& piece, const View& view);
/// Their names, beside them.
void put_clamp_names(Svg& svg, Placer& placer, const Piece& piece, const View& view, double size);

/// " Clamp arm at 600, 360 mm."; empty where there is none.
std::string clamps_told(const Piece& piece, Units units);
/// What the drawing shows of them; empty where there is none.
std::string clamp_caption(const Piece& piece);

} // namespace hollowtop::cli
