// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the recesses hold, and their covers, in sentences: for the text of a check, and for the bench
/// page of the report.

#include "cli/text/page.hpp"
#include "solver/result/result.hpp"

#include <string>
#include <vector>

namespace hollowtop::cli {

/// "600 mm by 400 mm, 38 mm high".
std::string kept_sizes(const KeptResult& kept, Units units);
/// "hangs under the skin".
const char* hangs_words(const KeptResult& kept);
/// "42 mm of 44 mm in height": the tightest way.
std::string kept_room(const KeptResult& kept, Units units);
/// What a cover is, weighs, and asks for; sentences.
std::vector<std::string> cover_sentences(const CoverResult& cover, Units units);

void put_in_recesses(Page& page, const Result& result, Units units);

} // namespace hollowtop::cli
