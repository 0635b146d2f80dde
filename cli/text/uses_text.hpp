// SPDX-License-Identifier: MIT
#pragma once
/// \file  The table of uses for a reader: a list, one use with its sources, and docs/uses.md, all from the
/// same rows.

#include "cli/text/page.hpp"
#include "materials/uses.hpp"
#include "solver/piece/piece.hpp"

#include <string>

namespace hollowtop::cli {

/// What a use is, and what it is not.
extern const char* const what_a_use_is;

void put_uses(Page& page, Units units);
void put_use(Page& page, const materials::Use& use, Units units);

/// The whole of docs/uses.md.
std::string uses_document();

} // namespace hollowtop::cli
