// SPDX-License-Identifier: MIT
#pragma once
/// \file  A proof test in a maker's words: what to lay on, what the gauges should read, when to stop; and what
/// was learned from readings. At most sixty lines of a hundred columns.

#include "cli/json/proof_story.hpp"
#include "cli/text/check_text.hpp"

#include <string>

namespace hollowtop::cli {

std::string prooftest_text(const ProofStory& story, const TextStyle& style);

} // namespace hollowtop::cli
