// SPDX-License-Identifier: MIT
#pragma once
/// \file  Between which moistures the wood of a piece lives: what it comes to in the dry and in the wet air
/// of its climate. Percent.
/// Moisture from the air: materials/moisture.hpp.

#include "solver/piece/piece.hpp"

namespace hollowtop {

/// What is taken where the piece names no climate: a heated room, common practice.
inline constexpr Air usual_dry_air{.temperature_C = 20, .humidity_percent = 30};
inline constexpr Air usual_wet_air{.temperature_C = 20, .humidity_percent = 60};

struct MoistureRange {
    Air dry_air{}, wet_air{};
    bool dry_is_usual = false, wet_is_usual = false; ///< taken, not stated
    double dry_percent = 0, wet_percent = 0;         ///< that wood comes to in that air
    double made_percent = 0;                         ///< at which it is made: top.moisture
    double shrinking_points() const { return made_percent > dry_percent ? made_percent - dry_percent : 0; }
    double growing_points() const { return wet_percent > made_percent ? wet_percent - made_percent : 0; }
};

/// Throws Error(input) where the air is impossible.
MoistureRange moisture_range(const Piece& piece);

} // namespace hollowtop
