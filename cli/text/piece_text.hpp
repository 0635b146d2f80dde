// SPDX-License-Identifier: MIT
#pragma once
/// \file  A new piece as the text of a piece file, with comments that say what each part is and what to
/// change first.

#include "solver/variants/start.hpp"

#include <string>

namespace hollowtop::cli {

/// `start` has pads and bearers, angles, recesses without lands: what start_of() draws.
std::string piece_text(const Wish& wish, const Start& start, const std::string& title);

/// "legs", "trestles", ...: as typed behind --base.
const char* to_word(Base base);
/// "four legs", "two trestles": within a title.
const char* in_a_title(Base base);
/// "round, ", "oval, "; nothing of a rectangle.
std::string in_a_title(const Wish& wish);

} // namespace hollowtop::cli
