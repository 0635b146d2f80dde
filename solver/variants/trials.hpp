// SPDX-License-Identifier: MIT
#pragma once
/// \file  The checks that a report makes beside the check itself: the piece again with one thing otherwise,
/// and under a proof test.
/// With one thing otherwise: the check as drawn says where the numbers lie; how they change is the ratio of two
/// solves on a mesh that is as coarse as differences bear (uncertainty.hpp). Where a limit comes near by that, and
/// where a ratio is large, the changed piece is checked in full: no verdict turns on an estimate.

#include "materials/message.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/uncertainty/sampling.hpp"
#include "solver/variants/changes.hpp"
#include "solver/variants/proof_test.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

/// So near to its limit (1) a use by differences is not told before it is checked in full; and so much a ratio may
/// be, either way, of a check that uses at least `worth_a_look`. Judgement: over eight examples the check that
/// governs lay within 5 % of full checks where neither was so (docs/method.md).
inline constexpr double near_limit = 0.15, great_ratio = 1.5, worth_a_look = 0.3;

struct ChangeRow {
    Changed kind = Changed::thinner;
    double step = 0;
    std::string part;
    std::optional<Point> at;
    std::optional<StudyRow>
        row; ///< absent where the changed piece makes no sense or could not be computed; `problem` says why
    Message problem;
    std::optional<double> steps_to_limit;
    bool in_full = false; ///< checked in full, not by differences
};

/// Sag of the worst situation at once, from a stiffer wood (less the error of the computation) to a softer
/// one (more by it).
struct SagBand {
    double low_mm = 0, drawn_mm = 0, high_mm = 0;
    double share = 0; ///< of stiffness, either way
};

struct Trials {
    StudyRow base{};
    std::vector<ChangeRow> changes{};
    std::optional<SagBand> band{};
    std::optional<ProofTest> proof{};
    std::vector<std::vector<Band>> proof_bands{}; ///< of its readings, [step][gauge], mm; empty: not known
};

/// `outcome` is that of the check, whose mesh is used for all that is checked in full. Loads that travel stay where
/// they were found to be worst. Without `wants_proof` nothing is predicted of a proof test.
Trials trials_of(const CheckOutcome& outcome, const CheckOptions& options, bool wants_proof = true);

} // namespace hollowtop
