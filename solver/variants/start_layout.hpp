// SPDX-License-Identifier: MIT
#pragma once
/// \file  Where a first piece has its outline, its supports and its recesses. Proposals of ours, common practice where not
/// said otherwise; mm.

#include "solver/piece/loop.hpp"
#include "solver/variants/start.hpp"

#include <vector>

namespace hollowtop {

Outline outline_of(const Wish& wish);
std::vector<Support> supports_of(const Wish& wish);
/// To what a rule shows of depths.
double depth_step(Units units);

} // namespace hollowtop
