// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a top that may be no solid wood is made of.

#include "solver/piece/piece.hpp"

#include <optional>

namespace hollowtop {

/// As stated, or those of its sheet. Empty for a wood.
std::optional<Elastic> stated_elastic(const Top& top);

/// k_def of the top: of its sheet, else of solid timber.
materials::Sourced creep_of(const Piece& piece);

} // namespace hollowtop
