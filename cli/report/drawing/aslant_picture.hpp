// SPDX-License-Identifier: MIT
#pragma once
/// \file  The top as it lies on its face, its underside upwards, seen aslant from above: isometric, so that
/// lengths along, across and upwards are to one scale. What is hidden is not drawn.
///
///             . ' ` .          one unit along x goes (cos 30, sin 30), across (-cos 30, sin 30), up (0, -1)
///         . '         ` .
///         ` .  recess  . '     the front edge (y = 0) lies away from who looks, as in the plan from below
///             ` .  . '

#include "cli/report/drawing/plan_of.hpp"
#include "cli/report/drawing/svg.hpp"
#include "solver/piece/piece.hpp"

#include <string>

namespace hollowtop::cli {

Svg aslant_picture(const std::string& id, const Piece& piece, const Plan& plan, double width, Units units);

} // namespace hollowtop::cli
