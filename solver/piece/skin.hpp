// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a recess leaves of the top's thickness. mm.

#include "solver/piece/piece.hpp"

namespace hollowtop {

/// Thickness of the wood over the floor of a recess.
inline double skin_of(const Recess& recess, const Top& top) { return top.thickness - recess.depth; }
/// The depth that leaves such a skin.
inline double depth_for_skin(double skin, const Top& top) { return top.thickness - skin; }

} // namespace hollowtop
