// SPDX-License-Identifier: MIT
#pragma once
/// \file  The result of `movement` as JSON, in full precision; docs/movement.schema.json says what each key
/// is.

#include "solver/seasons/seasons.hpp"
#include "solver/seasons/year_of_top.hpp"

#include <span>
#include <string>

namespace hollowtop::cli {

/// `year` where it was asked for.
std::string to_json(const Piece& piece, const Seasons& seasons, std::span<const Message> cautions,
                    const YearOfTop* year = nullptr);

} // namespace hollowtop::cli
