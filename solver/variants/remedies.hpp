// SPDX-License-Identifier: MIT
#pragma once
/// \file  What would make a failing piece meet its limits: the least change of each kind, by itself, found by
/// full checks.

#include "solver/check/check_piece.hpp"

#include <optional>
#include <vector>

namespace hollowtop {

struct Remedies {
    /// Those that help first, the least work and the lightest first; then those that do not, the nearest first.
    std::vector<Remedy> changes;
    std::optional<SolidToo> solid_too; ///< the top fails without its recesses as well
};

/// `failing` is what a check of `piece` under `options` came to. What is tried, how far: levers.hpp. Of each kind the
/// farthest step is judged first, on a mesh that is not refined; of those that pass, the ones that are the least
/// work are brought back to the least step, which then meets the limits by a check of all, loads that travel
/// sought anew: three at most, of a piece whose check is long one. Another board, wood or section, feet moved across and less load
/// are tried where none of the others helps. Where nothing helps by itself, two changes together are tried, those first that promise most.
/// `options.progress` is told the share that is done.
Remedies remedies_for(const Piece& piece, const CheckOutcome& failing, const CheckOptions& options);

} // namespace hollowtop
