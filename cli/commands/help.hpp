// SPDX-License-Identifier: MIT
#pragma once
/// \file  The help texts, made from the table of commands.

#include "cli/commands/command.hpp"

#include <string>

namespace hollowtop::cli {

/// `hollowtop --help`: what it is for, the commands, an example, the cautions.
std::string program_help();
/// `hollowtop NAME --help`.
std::string command_help(const Command& command);

} // namespace hollowtop::cli
