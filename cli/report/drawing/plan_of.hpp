// SPDX-License-Identifier: MIT
#pragma once
/// \file  The piece in plan as drawings need it: closed loops, the thickness at a place, and where each screw
/// is drilled.
/// mm, x along the length, y along the width, seen from above.

#include "solver/piece/loop.hpp"
#include "solver/piece/piece.hpp"

#include <string>
#include <vector>

namespace hollowtop::cli {

struct Hollow {
    std::string name;
    Loop loop;
    std::vector<Loop> lands;
    std::vector<std::string> land_names;
    double depth = 0, skin = 0, root_radius = 0;
    double area() const; ///< that is cut away in plan
};

struct Plan {
    double length = 0, width = 0, thickness = 0;
    Loop outline;
    std::vector<Hollow> hollows;
};

Plan plan_of(const Piece& piece);

/// 0 off the top.
double thickness_at(const Plan& plan, Point at);

/// The thickness along a line parallel to x (`along_x`) or to y, at the other coordinate `place`: stretches
/// in order, those off the top left out.
struct Stretch {
    double from = 0, to = 0, thickness = 0;
};
std::vector<Stretch> section_along(const Plan& plan, bool along_x, double place);

/// A screw of a stiffener as it is drilled: in the middle of the free part of what lies against the wood.
struct ScrewPlace {
    double from_start = 0;
    Point at;
};
std::vector<ScrewPlace> drilled_places(const Stiffener& stiffener);

Rectangle bounds_of_plan(const Plan& plan);

} // namespace hollowtop::cli
