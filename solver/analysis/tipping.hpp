// SPDX-License-Identifier: MIT
#pragma once
/// \file  Does a top that only lies on its supports stay on them? Moments of the loads about the edges of the supports' hull.

#include "solver/analysis/loads.hpp"
#include "solver/piece/piece.hpp"

#include <optional>
#include <vector>

namespace hollowtop {

/// Convex hull, counter-clockwise; fewer than three points where all lie on a line (Andrew 1979, monotone chain).
std::vector<Point> convex_hull(std::vector<Point> points);

/// The line about which the top tips, and the multiple of the passing load at which it starts to.
struct Tipping {
    Point from, to;
    double factor = 0; ///< standing + factor x passing reaches the line; 0 where the standing loads alone tip it
};

/// Empty where no multiple of the passing load tips the top. `hull` as from convex_hull.
std::optional<Tipping> tipping_of(const std::vector<Point>& hull, const Resultant& standing, const Resultant& passing);

} // namespace hollowtop
