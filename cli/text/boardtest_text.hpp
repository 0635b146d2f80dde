// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a board said on the bench, in a maker's words: how stiff, how surely, from what, and the
/// block to paste.

#include "cli/json/boardtest_json.hpp"
#include "cli/text/check_text.hpp"

#include <string>

namespace hollowtop::cli {

std::string boardtest_text(const BoardStory& story, const TextStyle& style);

/// How to do it at the bench, and what to write down; of a board of that size, which the tables may know.
std::string boardtest_sheet(const BoardStory& story, const TextStyle& style);

/// A stiffness of material: "12300 MPa", "1.78 million psi".
std::string modulus_text(double MPa, Units units);

} // namespace hollowtop::cli
