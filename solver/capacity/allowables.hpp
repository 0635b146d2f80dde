// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the wood of a piece may bear under loads of a duration and a purpose.

#include "materials/strength.hpp"
#include "solver/piece/piece.hpp"

#include <optional>

namespace hollowtop {

/// Allowable stresses of the piece's wood for a duration; empty where the top is given by elastic constants
/// alone.
/// Against the force of a test, a strength load, by its own rule (materials::Against).
std::optional<materials::AllowableStresses> allowables_of(const Piece& piece, Duration duration,
                                                          LoadFor judged_for = LoadFor::everyday);
inline materials::Against against(LoadFor judged_for) {
    return judged_for == LoadFor::everyday ? materials::Against::loads_of_use
                                           : materials::Against::test_force;
}

} // namespace hollowtop
