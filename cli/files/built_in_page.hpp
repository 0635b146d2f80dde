// SPDX-License-Identifier: MIT
#pragma once
/// \file  The page (cli/page) as built into the program: -DHOLLOWTOP_PAGE=build/page/hollowtop.html.

#include <string_view>

namespace hollowtop::cli {

/// The whole file; empty where the program was built without it.
std::string_view built_in_page();

} // namespace hollowtop::cli
