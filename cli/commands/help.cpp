// SPDX-License-Identifier: MIT
#include "cli/commands/help.hpp"

#include "cli/text/page.hpp"
#include "cli/words/cautions.hpp"

#include <string_view>
#include <vector>

namespace hollowtop::cli {
namespace {

std::vector<std::string_view> lines_of(std::string_view text) {
    std::vector<std::string_view> lines;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        lines.push_back(text.substr(0, end));
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    }
    return lines;
}

void put_cautions(Page& page) {
    page.blank();
    page.heading("Cautions");
    for (const Message& caution : cautions()) page.bullet(in_own_units(caution));
    for (const Message& caution : router_cautions()) page.bullet(in_own_units(caution));
}

} // namespace

std::string program_help() {
    Page page;
    page.paragraph(
        "hollowtop: may a solid-wood tabletop be hollowed from below, how deep, and how will it hold?");
    page.blank();
    page.heading("Usage: hollowtop COMMAND ...");
    page.blank();
    page.heading("Commands (hollowtop COMMAND --help tells more)");
    std::vector<Row> rows;
    for (const Command& command : commands()) rows.push_back({{command.name, command.one_line}, Tone::plain});
    page.rows({{.heading = ""}, {.heading = "", .widest = 84}}, rows);
    page.blank();
    page.heading("Options");
    page.labelled("  --version", "show the version");
    page.labelled("  --help", "show this help");
    page.blank();
    page.heading("Example");
    page.paragraph("hollowtop check docs/examples/reading_table.json", 2);
    put_cautions(page);
    return page.text(false);
}

std::string command_help(const Command& command) {
    Page page;
    page.paragraph(std::string("hollowtop ") + command.name + ": " + command.one_line);
    page.blank();
    page.heading(std::string("Usage: hollowtop ") + command.name + " [OPTIONS]" +
                 (*command.names == '\0' ? "" : " " + std::string(command.names)));
    page.blank();
    for (const std::string_view line : lines_of(command.text)) page.paragraph(line);
    page.blank();
    page.heading("Options");
    std::vector<Row> rows;
    for (const Option& option : command.options)
        rows.push_back({{(*option.also == '\0' ? "" : std::string(option.also) + ", ") + option.name +
                             (*option.value == '\0' ? "" : " ") + option.value,
                         option.text},
                        Tone::plain});
    page.rows({{.heading = "", .widest = 26}, {.heading = "", .widest = 68}}, rows);
    page.blank();
    page.heading("Example");
    for (const std::string_view line : lines_of(command.example)) page.paragraph(line, 2);
    put_cautions(page);
    return page.text(false);
}

} // namespace hollowtop::cli
