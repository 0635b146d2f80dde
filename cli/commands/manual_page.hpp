// SPDX-License-Identifier: MIT
#pragma once
/// \file  The manual page, made from the table of commands as the help is.

#include <string>

namespace hollowtop::cli {

/// hollowtop(1), as man(7) macros: every command with its options and example, the exit statuses, the cautions.
std::string manual_page();

} // namespace hollowtop::cli
