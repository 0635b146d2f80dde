// SPDX-License-Identifier: MIT
#pragma once
/// \file  What hangs in the recesses, as loads of the piece: a thing on the skin rests on its footprint, one
/// on runners hangs on two lines along the walls beside it, half its weight each; what lies on the base loads
/// nothing. A cover hangs on the rim all round. Things kept stay (long), a cover is part of the piece
/// (permanent).

#include "materials/duration.hpp"
#include "materials/message.hpp"
#include "solver/piece/piece.hpp"

#include <optional>
#include <string>

namespace hollowtop {

/// The piece with those loads added to its own. Adds nothing to a piece that has them.
Piece with_recess_loads(const Piece& piece);

/// What a cover weighs and is made of. kg, kg/m3, MPa.
struct CoverStuff {
    Message material; ///< in words, with its source
    double density_kg_m3 = 0;
    double mass_kg = 0;                      ///< with its trim
    double trim_kg = 0;                      ///< of that
    double E = 0;                            ///< in its weaker direction; 0 where none is published
    std::optional<materials::Sourced> creep; ///< k_def; empty where none is published
};
/// Of a recess that has a cover. Its trim is taken to be of the top's wood.
CoverStuff stuff_of_cover(const Piece& piece, const Recess& recess);

/// All covers of a piece, kg.
double mass_of_covers(const Piece& piece);

} // namespace hollowtop
