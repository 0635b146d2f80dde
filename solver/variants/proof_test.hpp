// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the finished top should read under known weights: the load of the piece that bends it most,
/// laid on in steps, and the movement at a few gauges against a top that carries nothing but itself.
/// Readings are against the plane through the supports' own movements: what gauges at the supports show is to
/// be taken off.
/// Steps and proof load: shares of the load that is tested; 1.25 for a finished piece (a proposal of ours:
/// high tests use up strength).

#include "materials/message.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

inline constexpr std::array<double, 5> proof_shares{0.25, 0.5, 0.75, 1, 1.25};

struct ProofGauge {
    Message where; ///< in the maker's words
    Point at{};
    double slope_mm_per_100_N = 0; ///< from nothing to the whole load
};

struct ProofStep {
    double share = 0, force_N = 0;
    std::vector<double> readings_mm; ///< one a gauge, downward +
};

struct ProofTest {
    Load load{}; ///< that is laid on, at the share 1
    Message load_name{};
    double force_N = 0;
    std::vector<ProofGauge> gauges{};
    std::vector<ProofStep> steps{}; ///< one a share of proof_shares
};

/// The piece to be checked: the load that bends the top most, alone, at every share, and the gauges as
/// probes. Empty where no load rests on the top. `placed` is a piece without a stated use and without loads
/// that travel, `result` its check.
struct ProofPlan {
    ProofTest test; ///< all but the readings
    Piece piece;
};
std::optional<ProofPlan> plan_proof_test(const Piece& placed, const Result& result);

/// The readings at a share of the load, from the check of that piece, one a gauge, against the top under its own
/// weight. Empty where that step was not computed.
std::optional<std::vector<double>> readings_at(const ProofPlan& plan, const Result& result, double share);

/// The readings, from the check of that piece. Empty where a step was not computed.
std::optional<ProofTest> read_proof_test(const ProofPlan& plan, const Result& result);

} // namespace hollowtop
