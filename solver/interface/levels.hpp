// SPDX-License-Identifier: MIT
#pragma once
/// \file  On which levels of the underside a rectangle or a line lies: rim and lands, or the floor of a recess.

#include "solver/mesh/thickness_field.hpp"

#include <vector>

namespace hollowtop {

/// Places spread evenly over a rectangle, at which a tile of one level looks for its own part.
std::vector<Point> level_samples(Point middle, Point axis, double half_along, double half_across);

/// Where along the line from -half to half about `centre` the underside changes its level, from the first end
/// to the last.
struct LevelStretch {
    double from = 0, to = 0;
    int region = 0;
};
std::vector<LevelStretch> levels_along(const ThicknessField& field, Point centre, Point axis, double half);

} // namespace hollowtop
