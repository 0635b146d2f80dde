// SPDX-License-Identifier: MIT
#include "cli/commands/rows.hpp"

#include <array>

namespace hollowtop::cli {

std::span<const Command> commands() {
    static const std::array<Command, 4> table{check_command, validate_command, materials_command,
                                              sections_command};
    return table;
}

} // namespace hollowtop::cli
