// SPDX-License-Identifier: MIT
#pragma once
/// \file  From what was typed to a command that runs. command_line.cpp is the only source that meets the
/// library that parses command lines; the parser is built from the table of commands.

#include "cli/commands/command.hpp"

namespace hollowtop::cli {

/// Runs the command that was typed. Throws Error(input) where the command line is wrong.
Status run_command_line(int argc, const char* const* argv);

} // namespace hollowtop::cli
