// SPDX-License-Identifier: MIT
#pragma once
/// \file  The readings of a proof test, as a maker writes them down: a table with the load in its first column
/// and a column for each gauge.
///
///     load (kg), A, B, C
///     12.5, 0.53, 0.47, 0.30
///
/// Columns are parted by commas, semicolons or tabs; decimal commas go with the last two. The load is in %, kg,
/// lb or N: in its heading, or behind each number; readings are in mm (cm, in: likewise). Blank lines and lines
/// that begin with # are passed over.

#include "solver/variants/proof_band.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {

struct GaugeReadings {
    std::vector<ProofReading> readings{};
    std::vector<std::string> notes{}; ///< what was taken for granted, and what was left out
};

/// Throws Error(input) with the line as its place.
GaugeReadings parse_readings(std::string_view text, const ProofTest& test);

/// Refuses readings that are another unit's, or of gauges that were exchanged. Throws Error(input).
void expect_plausible(const std::vector<GaugeFound>& found);

} // namespace hollowtop::cli
