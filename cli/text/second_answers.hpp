// SPDX-License-Identifier: MIT
#pragma once
/// \file  Two quiet lines of the text of `check`: the sag by hand beside the computed one, and the solid top
/// that sags as little.

#include "cli/text/page.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"

namespace hollowtop::cli {

/// Nothing where the result holds neither.
void put_second_answers(Page& page, const Result& result, Units units);

} // namespace hollowtop::cli
