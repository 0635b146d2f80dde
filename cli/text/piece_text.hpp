// SPDX-License-Identifier: MIT
#pragma once
/// \file  A new piece as the text of a piece file, with comments that say what each part is and what to
/// change first.

#include "solver/variants/start.hpp"

#include <string>

namespace hollowtop::cli {

/// `start` has rectangular recesses, pads and bearers, angles: what start_of() draws. `written` and `found`
/// go into the comments: the names as they were asked for.
std::string piece_text(const Wish& wish, const Start& start, const std::string& title);

/// "legs", "trestles", ...: as typed behind --base.
const char* to_word(Base base);
/// "four legs", "two trestles": within a title.
const char* in_a_title(Base base);

} // namespace hollowtop::cli
