// SPDX-License-Identifier: MIT
#pragma once
/// \file  The solid equal: how thick a solid top of the same wood would have to be to sag as little, and what
/// it would weigh.
/// Same outline, grain, supports and loads, its own weight; no recesses, no stiffeners. It is solved whole,
/// on a coarse mesh (a solid top is smooth), and its thickness found by the power law that joins the last two
/// solves, to 0.1 mm.

#include "materials/message.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"
#include "solver/situations/respond.hpp"

#include <string>

namespace hollowtop {

/// `plan` is the situation, `n_before` as in hand_rows.hpp, `sag_mm` what the piece as drawn sags in it.
SolidEqual solid_equal(const Piece& piece, const SituationPlan& plan, int n_before, double sag_mm,
                       int threads);

/// Does hollowing pay? One sentence, in mm and kg, from `result.solid_equal` and the masses; empty without
/// recesses.
Message pays_words(const Piece& piece, const Result& result);

/// Index of the situation that comes nearest to its limit of sag; -1 where there is none.
int nearest_to_its_limit(const Result& result);

} // namespace hollowtop
