// SPDX-License-Identifier: MIT
// The loads and limits that a stated use brings, each with its source.
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/text/uses_text.hpp"

#include <array>

namespace hollowtop::cli {
namespace {

constexpr std::array<Option, 3> options{units_option, no_color_option, help_option};

Status run(const Given& given) {
    const Settings settings = settings_of(given);
    Page page;
    if (given.names.empty()) {
        put_uses(page, settings.units.value_or(Units::mm));
        page.blank();
        page.paragraph("hollowtop uses NAME shows the loads of one of them with their sources.");
    } else {
        put_use(page, materials::find_use(given.names.front()), settings.units.value_or(Units::mm));
    }
    print(page.text(settings.coloured));
    return Status::passes;
}

std::vector<std::string> ids() {
    std::vector<std::string> all;
    for (const materials::Use& use : materials::uses()) all.push_back(use.id);
    return all;
}

} // namespace

extern const Command uses_command{
    .name = "uses",
    .one_line = "the loads and limits that a stated use brings, each with its source",
    .names = "[NAME]",
    .least_names = 0,
    .most_names = 1,
    .text = "Without a name: the list. With a name, such as dining or workbench: its loads, its limits, and "
            "where they "
            "come from. In a piece file \"use\": \"dining\" adds these loads after the piece's own, and the "
            "limits where "
            "the piece states none. A use is a set of loads to reckon with, not a standard met.",
    .example = "hollowtop uses\n"
               "hollowtop uses dining",
    .options = options,
    .run = run,
    .offered = ids,
};

} // namespace hollowtop::cli
