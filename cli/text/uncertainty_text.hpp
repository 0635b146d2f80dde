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

/// Every check's band, the causes and the boards, for `--full`.
void put_uncertainty(Page& page, const Uncertainty& told, Units units);

} // namespace hollowtop::cli
