// SPDX-License-Identifier: MIT
#pragma once
/// \file  What lies on or under a top, as shapes in a plan: stiffeners, supports. Used by the pictures of plans alone.

#include "cli/report/drawing/plan_view.hpp"
#include "solver/piece/piece.hpp"

#include <vector>

namespace hollowtop::cli {

/// The strip along a line, from `right` to `left` of it, mm.
std::vector<Point> along_strip(Point from, Point to, double left, double right);
/// Places of the piece in the picture.
std::vector<Point> seen(const std::vector<Point>& points, const View& view);
Point middle_of(const Support& support);
/// The edges of a support as it is drawn.
std::vector<Point> corners_of(const Support& support);
void draw_stiffener(Svg& svg, const Stiffener& stiffener, const View& view);

} // namespace hollowtop::cli
