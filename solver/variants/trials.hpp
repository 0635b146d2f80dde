// SPDX-License-Identifier: MIT
#pragma once
/// \file  The checks that a report makes beside the check itself: the piece again with one thing otherwise,
/// and under a proof test.

#include "materials/message.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/uncertainty/sampling.hpp"
#include "solver/variants/changes.hpp"
#include "solver/variants/proof_test.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

struct ChangeRow {
    Changed kind = Changed::thinner;
    double step = 0;
    std::string part;
    std::optional<Point> at;
    std::optional<StudyRow>
        row; ///< absent where the changed piece makes no sense or could not be computed; `problem` says why
    Message problem;
    std::optional<double> steps_to_limit;
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

/// `outcome` is that of the check, whose mesh is used for all. Loads that travel stay where they were found
/// to be worst.
Trials trials_of(const CheckOutcome& outcome, const CheckOptions& options);

} // namespace hollowtop
