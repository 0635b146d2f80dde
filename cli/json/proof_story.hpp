// SPDX-License-Identifier: MIT
#pragma once
/// \file  All that is told of a proof test, and how it looks as JSON: docs/prooftest.schema.json.

#include "solver/variants/proof_band.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli {

/// One check before and after the test.
struct Restated {
    std::string check{}, unit{};
    double limit = 0, before = 0, now = 0, soft = 0; ///< demands; soft: at the soft end of what is believed
    double utilisation_now = 0, utilisation_soft = 0;
};

struct ProofStory {
    std::string file, title;
    Piece piece{};          ///< as it was computed
    bool passes = true;     ///< as drawn
    bool passes_now = true; ///< with what was learned
    ProofPrediction prediction{};
    std::optional<Learned> learned{};
    std::vector<BoardLearned> boards{};
    std::vector<Restated> checks{};   ///< those used most first
    std::vector<std::string> notes{}; ///< of the readings
};

/// "A", "B", ...
std::string gauge_letter(std::size_t gauge);

/// At which reading to stop and unload: half as much again as computed (judgement), but never within the band.
double stop_reading(const ProofPrediction& prediction, std::size_t step, std::size_t gauge);

std::string prooftest_json(const ProofStory& story);

} // namespace hollowtop::cli
