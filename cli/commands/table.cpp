// SPDX-License-Identifier: MIT
#include "cli/commands/rows.hpp"

#include <array>

namespace hollowtop::cli {

std::span<const Command> commands() {
    // one a line, in the order of the help
    static const std::array table{
        check_command,  compare_command,   deepest_command,    movement_command, seasons_command,
        survey_command, boardtest_command, prooftest_command,  report_command,   validate_command,
        uses_command,   materials_command, sections_command,   template_command, new_command,
        schema_command, page_command,      completion_command, manual_command,
    };
    return table;
}

} // namespace hollowtop::cli
