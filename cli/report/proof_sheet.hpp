// SPDX-License-Identifier: MIT
#pragma once
/// \file  A page for the bench: where the weights and the gauges go, and a table to fill in.

#include "cli/json/proof_story.hpp"

#include <string>

namespace hollowtop::cli {

/// One self-contained HTML page, for paper.
std::string proof_sheet(const ProofStory& story, Units units);

} // namespace hollowtop::cli
