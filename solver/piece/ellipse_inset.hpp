// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a rim leaves of an ellipse: the line parallel to an ellipse is no ellipse, so it is followed by chords.

#include "solver/piece/piece.hpp"

#include <vector>

namespace hollowtop {

/// Chords for a turn (radians) about a radius, so that none strays more than `stray` from the arc; at least one.
int chords_for(double radius, double turn, double stray);

/// A closed polygon, counter-clockwise, about what is further than `rim` from the ellipse that fills the box and a
/// cutter of `corner_radius` reaches; rim + corner_radius below half the width. No chord strays more than `stray`.
/// All in mm. Where that sum is more than the radius of the ellipse's ends, the recess comes to a point there, rounded
/// by the cutter.
std::vector<Point> inset_of_ellipse(const Rectangle& box, double rim, double corner_radius, double stray);

} // namespace hollowtop
