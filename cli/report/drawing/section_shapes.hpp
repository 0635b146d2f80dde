// SPDX-License-Identifier: MIT
#pragma once
/// \file  A stiffener's section as rectangles that share no area: y to its left, z up, the wood at z = 0; mm.

#include "materials/section.hpp"
#include "solver/piece/piece.hpp"

#include <vector>

namespace hollowtop::cli {

/// The nearer the wood, the earlier in the list.
std::vector<Rectangle> parts_of_section(const materials::Section& section);

} // namespace hollowtop::cli
