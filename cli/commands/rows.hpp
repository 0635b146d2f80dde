// SPDX-License-Identifier: MIT
#pragma once
/// \file  The commands, one row and one source each; commands/table.cpp puts them in order.

#include "cli/commands/command.hpp"

namespace hollowtop::cli {

extern const Command check_command;
extern const Command compare_command;
extern const Command deepest_command;
extern const Command movement_command;
extern const Command seasons_command;
extern const Command survey_command;
extern const Command prooftest_command;
extern const Command report_command;
extern const Command validate_command;
extern const Command uses_command;
extern const Command template_command;
extern const Command materials_command;
extern const Command boardtest_command;
extern const Command sections_command;
extern const Command schema_command;
extern const Command completion_command;
extern const Command manual_command;
extern const Command new_command;
extern const Command page_command;

} // namespace hollowtop::cli
