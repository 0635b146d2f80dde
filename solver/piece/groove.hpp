// SPDX-License-Identifier: MIT
#pragma once
/// \file  A bar let into the wood lies in a recess just as large as itself.

#include "solver/piece/piece.hpp"

#include <string>

namespace hollowtop {

/// What that recess is called.
inline std::string groove_of(const Stiffener& bar) { return "groove of " + bar.name; }

} // namespace hollowtop
