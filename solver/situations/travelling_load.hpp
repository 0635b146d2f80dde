// SPDX-License-Identifier: MIT
#pragma once
/// \file  A load that travels ("at": "worst"): where it may lie, and the load set down there. The load stays
/// whole: all of it lies on the top and inside `over`, if that is given. mm.

#include "solver/mesh/thickness_field.hpp"
#include "solver/piece/piece.hpp"

#include <optional>

namespace hollowtop {

bool travels(const Load& load);

/// The load with its middle there; it travels no more.
Load set_down(const Load& load, Point at);

/// The middle of a load that rests on a patch or a line; of an area load, none.
std::optional<Point> place_of(const Load& load);

/// The rectangle that the load's middle may roam.
Rectangle roaming_range(const Load& load, const Top& top);

/// Does all of the load lie on the top? Its corners and its middle tell; of a patch judged for stability the
/// disc as large as it.
bool lies_on(const ThicknessField& field, const Load& load, Point at);

} // namespace hollowtop
