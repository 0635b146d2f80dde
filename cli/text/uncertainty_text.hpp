// SPDX-License-Identifier: MIT
#pragma once
/// \file  How sure the numbers are, in a maker's words.

#include "cli/text/page.hpp"
#include "cli/words/quantity.hpp"
#include "solver/uncertainty/uncertainty.hpp"

#include <string>

namespace hollowtop::cli {

/// "2.4 % (give or take 0.2)", "under one in a thousand".
std::string chance_text(const Chance& chance);

/// The governing check's band against its limit: one sentence. Empty where nothing is known of it.
std::string band_sentence(const Uncertainty& told, Units units);
/// What most of it comes from.
std::string causes_sentence(const Uncertainty& told);
/// Where stiff boards belong; empty for one board.
std::string boards_sentence(const Uncertainty& told, Units units);

/// How near the strength of their own wood such tops come: of the check that governs, or of the one nearest to it
/// where that is no strength. Empty where none is.
std::string strength_sentence(const Uncertainty& told);

/// How the band came about, and how far off it is where that was tried: no full stop at its end.
std::string how_found(const Uncertainty& told);

/// Every check's band, the causes and the boards, for `--full`.
void put_uncertainty(Page& page, const Uncertainty& told, Units units);

} // namespace hollowtop::cli
