// SPDX-License-Identifier: MIT
#pragma once
/// \file  The constants of a top that is no solid wood.

#include "solver/piece/piece.hpp"

#include <optional>

namespace hollowtop {

/// As stated, or those of its sheet. Empty for a wood.
std::optional<Elastic> stated_elastic(const Top& top);

} // namespace hollowtop
