// SPDX-License-Identifier: MIT
#pragma once
/// \file  The result of `movement` as JSON, in full precision; docs/movement.schema.json says what each key
/// is.

#include "solver/seasons/seasons.hpp"

#include <span>
#include <string>

namespace hollowtop::cli {

std::string to_json(const Piece& piece, const Seasons& seasons, std::span<const Message> cautions);

} // namespace hollowtop::cli
