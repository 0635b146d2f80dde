// SPDX-License-Identifier: MIT
#pragma once
/// \file  A top's first years in its room, in a furniture maker's words: a page, a table for other programs, a card
/// for who will live with it.

#include "cli/text/check_text.hpp"
#include "solver/seasons/year_of_top.hpp"
#include "solver/variants/sanding.hpp"

#include <span>
#include <string>

namespace hollowtop::cli {

/// Forty lines at most; `full` adds what is taken for granted and every caution. `sanding`: empty where not asked for.
std::string year_text(const std::string& file, const Piece& piece, const YearOfTop& computed,
                      std::span<const Sanded> sanding, std::span<const Message> cautions, bool full,
                      const TextStyle& style);

/// Both years' worst and a row a month, to stand below another text.
std::string year_strip(const YearOfTop& year, const TextStyle& style);

/// A row a month, in mm, MPa and percent whatever the units of the text.
std::string year_csv(const YearOfTop& year);

/// For the client: where not to stand it, how to season it in, how wide it is by the month.
std::string care_card(const Piece& piece, const YearOfTop& computed, const TextStyle& style);

} // namespace hollowtop::cli
