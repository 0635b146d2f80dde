// SPDX-License-Identifier: MIT
#pragma once
/// \file  What lies on or under a top, as shapes in a plan: stiffeners, supports, loads. Used by the pictures of plans alone.

#include "cli/report/drawing/plan_view.hpp"
#include "solver/piece/piece.hpp"

#include <optional>
#include <string>
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

/// What a load rests on, drawn into a plan: a patch hatched, a line thick. Those all over the top and those that
/// travel have no place.
void draw_loads(Svg& svg, const Piece& piece, const View& view);
/// "P1", "P2", ... for the loads, in the order of the piece.
std::string load_letter(std::size_t index);
/// The middle of a load that rests at a place of its own.
std::optional<Point> place_of_load(const Load& load);
void draw_support(Svg& svg, const Support& support, const View& view);

} // namespace hollowtop::cli
