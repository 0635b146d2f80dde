// SPDX-License-Identifier: MIT
#pragma once
/// \file  A proof test before and after: how far the gauges may read from what is computed, and what their
/// readings say of the wood.
///
/// The readings at the full load are functions of what scatters (solver/uncertainty), in logarithms. What is
/// read is such a function and an error: of the gauge, and of the model (judgement). From the readings what
/// scatters is learned by the linear-Gaussian rule, the functions laid anew at what was learned until it stays
/// (iterated extended Kalman update; Bell and Cathey 1993). Thicknesses and the wood alone are learned: weights
/// are weighed.
/// Creep: the reading grows by k_def's share of so many hours (solver/readout/sag_in_time.hpp).

#include "solver/uncertainty/uncertainty.hpp"
#include "solver/variants/proof_test.hpp"

#include <optional>
#include <span>
#include <vector>

namespace hollowtop {

/// Error of one reading: of the gauge and its foot, mm; and of the model against a well-made top, a share.
/// Judgement, both one standard deviation.
inline constexpr double gauge_error_mm = 0.02, model_error = 0.02;

/// Times after the last weight, in hours.
inline constexpr double an_hour = 1, a_day = 24;

struct ProofPrediction {
    ProofTest test{};
    Inputs inputs{};
    Surface surface{};                      ///< of each gauge's reading at the whole load
    std::vector<std::vector<Band>> bands{}; ///< [step][gauge], mm; the gauge's own error is in it
    double after_hour = 0, after_day = 0;   ///< times the first reading, where the load stays
};

/// Empty where no load can be laid on in steps. Throws what check_piece does.
std::optional<ProofPrediction> predict_proof(const CheckOutcome& outcome, const UncertaintyOptions& options);
/// Of a test that is planned and read already.
ProofPrediction predict_proof(const CheckOutcome& outcome, const ProofPlan& plan, ProofTest test,
                              const UncertaintyOptions& options);

/// What a gauge read under a force, from nought at no load.
struct ProofReading {
    std::size_t gauge = 0;
    double force_N = 0, reading_mm = 0;
};

/// Of one gauge: the slope of its readings over the force, by least squares through nought, against the
/// computed one.
struct GaugeFound {
    std::size_t gauge = 0;
    int n_readings = 0;
    double read_over_computed = 0;
    double computed_slope = 0; ///< mm/N
    double error =
        0; ///< of that ratio, one deviation: the gauge's, or what the readings scatter, and the model's
    double bend =
        0; ///< how much steeper the last two readings are than the first two, a share; 0 under 4 readings
};

/// What was learned: the causes as they are now believed, normal with this mean and covariance.
struct Learned {
    std::vector<GaugeFound> gauges{};
    std::vector<double> mean{}, covariance{}; ///< of the causes; row by row
    Band stiffness{};                         ///< of the whole top's wood along the grain, against as drawn
    double surprise =
        0; ///< how many deviations the readings are from what was expected: of the furthest gauge, or of all
};

/// Slopes of the readings. Throws Error(input) where a gauge has none above nought.
std::vector<GaugeFound> gauges_found(const ProofPrediction& prediction,
                                     std::span<const ProofReading> readings);
Learned learn(const ProofPrediction& prediction, std::vector<GaugeFound> found);

/// Each board's modulus as it is now believed, against as drawn.
struct BoardLearned {
    std::size_t first_board = 0, end_board = 0;
    double before_MPa = 0;
    Band after_MPa{};
};
std::vector<BoardLearned> boards_learned(const ProofPrediction& prediction, const Learned& learned);

/// The piece as it was drawn, with the wood as it is now believed, to be checked anew; `soft`: at the soft end
/// of what is believed, where one in twenty such tops is softer.
Piece piece_learned(const Piece& placed, const ProofPrediction& prediction, const Learned& learned,
                    bool soft = false);

} // namespace hollowtop
