// SPDX-License-Identifier: MIT
#pragma once
/// \file  What would make a failing piece meet its limits, in a maker's words.

#include "solver/result/result.hpp"

#include <string>

namespace hollowtop::cli {

/// "recesses 3 mm less deep (thinnest skin 17 mm)".
std::string change_words(const Remedy& change, Units units);
/// "a shallower recess".
std::string kind_words(const Remedy& change);
/// "Hollowed or not, 30 mm is too thin for this use", where the top fails without its recesses as well.
std::string solid_too_words(const SolidToo& solid, double thickness_mm, Units units);

} // namespace hollowtop::cli
