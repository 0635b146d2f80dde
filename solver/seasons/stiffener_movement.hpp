// SPDX-License-Identifier: MIT
#pragma once
/// \file  How the top moves over one stiffener: the way of its screws in their holes, and what round holes or glue
/// do to the wood that they hold back (docs/seasons.md).

#include "solver/seasons/season_ground.hpp"

#include <string>

namespace hollowtop {

/// Adds the stiffener's row, and the checks of its holes or of the wood it holds.
void look_at_stiffener(const Ground& g, const Stiffener& stiffener);

/// Rows for tension across the grain in the dry season and pressure in the damp one, MPa, of wood that is held
/// back. `volume`, mm3, of that wood: the more it is, the less it bears; even tension, by the greatest, all through
/// it.
void judge_held_wood(const Ground& g, const std::string& name, double tension, double compression,
                     double volume);

} // namespace hollowtop
