// SPDX-License-Identifier: MIT
#pragma once
/// \file  The result of `seasons` as JSON, in full precision; docs/seasons.schema.json says what each key is.

#include "solver/seasons/year_of_top.hpp"
#include "solver/variants/sanding.hpp"

#include <span>
#include <string>

namespace hollowtop::cli {

/// `sanding`: empty where not asked for.
std::string year_json(const Piece& piece, const YearOfTop& year, std::span<const Sanded> sanding,
                      std::span<const Message> cautions);

/// Both years' worst and the months alone, on one line.
std::string year_strip_json(const YearOfTop& year);

} // namespace hollowtop::cli
