// SPDX-License-Identifier: MIT
#pragma once
/// \file  What may turn out otherwise than drawn, one thing at a time: pieces to be checked again, to see
/// what changes the verdict first.
/// The steps are proposals of ours, of the size that a shop meets: half a millimetre of thickness or depth, a
/// fifth of stiffness (about one coefficient of variation of a single board: Wood Handbook FPL-GTR-190 Table
/// 5-6, 22 %), a fifth of load, a centimetre of place.

#include "solver/checks/checks.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"
#include "solver/variants/row.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

enum class Changed {
    thinner, ///< the board, with the recesses as deep as drawn: rim and skin lose `step` mm
    deeper,  ///< every recess, by `step` mm
    softer,
    stiffer,      ///< the wood, every modulus by the share `step`
    heavier,      ///< every load but the top's own weight, by the share `step`
    supports_out, ///< the supports away from the middle, along the longer side of their rectangle, by `step` mm
    supports_in,      ///< the supports towards the middle
    screw_loose,      ///< the screw that is loaded hardest carries nothing
    stiffeners_loose, ///< no stiffener carries anything
};

/// Is its step a share, not a length?
bool is_share(Changed kind);

struct Change {
    Changed kind = Changed::thinner;
    double step = 0;           ///< mm or a share; 0 where there is none
    std::string part{};        ///< the stiffener whose screw is loose
    std::optional<Point> at{}; ///< that screw
    Piece piece{};             ///< as changed
};

inline constexpr double length_step = 0.5, share_step = stiffness_spread, place_step = 10;

/// The changes that can happen to this piece. `placed` is a piece without a stated use and without loads that
/// travel, `result` its check.
/// Whether each still makes sense is for the check to say.
std::vector<Change> changes_of(const Piece& placed, const Result& result);

/// How many such steps it takes until a check reaches its limit, by the straight line through both: an
/// estimate. Empty where the changed piece is no harder used, where the piece misses a limit already, and
/// beyond `most` steps.
/// `counts` says of each check of the table whether it can fail the piece.
std::optional<double> steps_to_limit(const StudyRow& base, const StudyRow& changed,
                                     const std::vector<bool>& counts, double most = 20);

} // namespace hollowtop
