// SPDX-License-Identifier: MIT
#pragma once
/// \file  Where a stiffener's screws sit along it. mm.

#include "solver/piece/piece.hpp"

#include <vector>

namespace hollowtop {

/// Places of a stiffener's screws from its start: as stated, or as many whole spacings as fit, the rest
/// shared by both ends.
std::vector<double> screw_places(const Stiffener& stiffener);

} // namespace hollowtop
