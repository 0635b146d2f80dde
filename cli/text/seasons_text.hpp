// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the seasons do to a top, in a furniture maker's words.

#include "cli/text/check_text.hpp"
#include "solver/seasons/seasons.hpp"

#include <span>
#include <string>
#include <string_view>

namespace hollowtop::cli {

/// The whole report of `movement`: verdict, climate, how far each part moves, slots, supports, cupping,
/// cautions.
std::string seasons_text(const std::string& file, const Piece& piece, const Seasons& computed,
                         std::span<const Message> cautions, const TextStyle& style);

} // namespace hollowtop::cli
