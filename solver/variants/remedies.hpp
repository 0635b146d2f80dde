// SPDX-License-Identifier: MIT
#pragma once
/// \file  What would make a failing piece meet its limits: the least change of each kind, by itself, found by
/// full checks.

#include "solver/check/check_piece.hpp"

#include <optional>
#include <vector>

namespace hollowtop {

/// `failing` is the result of `piece` under `options`. Shallower recesses (in steps of 0.5 mm), a wider rim
/// (10 mm), a larger section of the same kind, more stiffeners, feet moved along the longer side (10 mm),
/// lighter loads (5 %). Each change that helps has met the limits in a full check, loads that travel sought
/// anew; one step less did not. Kinds that the piece has nothing for are left out.
/// `options.progress` is told the share of the kinds that are done. Empty where one check of the piece is so
/// large that thirty of them would take minutes.
std::optional<std::vector<Remedy>> remedies_for(const Piece& piece, const Result& failing,
                                                const CheckOptions& options);

} // namespace hollowtop
