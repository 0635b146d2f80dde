// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the seasons do to a top: how far it moves, what must give way to it, and what happens where
/// nothing does.
///
///          shrinks <--|--> grows          from the moisture at which it is made, across the grain
///      +==============+===============+
///      |   o     o    x    o     o    |   a stiffener: the middle screw x is fixed, the others travel in slots
///      +==============+===============+
///
/// Moisture from the air: materials/moisture.hpp (Wood Handbook Eq. 4-5); movement by Eq. 13-2 with the
/// coefficient turned by the rings as a strain, C_T cos2 + C_R sin2. The wood is taken to come to rest in
/// each air: thickness and finish slow it, so this is the most that the climate can do. Formulas and sources:
/// docs/seasons.md. mm, N, MPa; moisture in percent.

#include "solver/piece/piece.hpp"
#include "solver/seasons/season_rows.hpp"

namespace hollowtop {

struct SeasonOptions {
    double face_difference_percent = 1; ///< moisture of the top face above that of the underside
    int threads = 1;
};

/// Throws Error(input) for a sheet and for a material of stated constants: how they move is not known.
void refuse_what_is_no_wood(const Piece& piece);

/// Throws Error(input) where the top is of stated constants (how it moves is not known) or the air is
/// impossible, and
/// Error(not_computable) where the cupping cannot be solved.
Seasons seasons_of(const Piece& piece, const SeasonOptions& options);

} // namespace hollowtop
