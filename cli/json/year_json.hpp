// SPDX-License-Identifier: MIT
#pragma once
/// \file  The result of `seasons` as JSON, in full precision; docs/seasons.schema.json says what each key is.

#include "solver/seasons/year_of_top.hpp"

#include <span>
#include <string>

namespace hollowtop::cli {

std::string year_json(const Piece& piece, const YearOfTop& year, std::span<const Message> cautions);

} // namespace hollowtop::cli
