// SPDX-License-Identifier: MIT
#include "cli/commands/manual_page.hpp"

#include "cli/commands/command.hpp"
#include "cli/words/cautions.hpp"
#include "solver/piece/version.hpp"

#include <string_view>

namespace hollowtop::cli {
namespace {

/// A line of running text: nothing in it is taken for a macro or an escape.
std::string plain(std::string_view text) {
    std::string out;
    if (!text.empty() && (text.front() == '.' || text.front() == '\'')) out += "\\&";
    for (const char c : text) {
        switch (c) {
        case '\\':
            out += "\\e";
            break;
        case '-':
            out += "\\-";
            break; // a hyphen that is typed, and is found by who searches the page
        case '\'':
            out += "\\(aq";
            break;
        case '`':
            out += "\\(ga";
            break;
        case '^':
            out += "\\(ha";
            break;
        case '~':
            out += "\\(ti";
            break;
        case '\n':
            out += "\n.PP\n";
            break;
        default:
            out += c;
        }
    }
    return out;
}

std::string bold(std::string_view text) { return "\\fB" + plain(text) + "\\fR"; }
std::string slanted(std::string_view text) { return "\\fI" + plain(text) + "\\fR"; }

std::string as_typed(std::string_view lines) {
    std::string out = ".PP\n.nf\n.RS 4\n";
    while (!lines.empty()) {
        const std::size_t end = lines.find('\n');
        out += plain(lines.substr(0, end)) + '\n';
        lines.remove_prefix(end == std::string_view::npos ? lines.size() : end + 1);
    }
    return out + ".RE\n.fi\n";
}

std::string section_of(const Command& command) {
    std::string out = std::string(".SS ") + command.name + "\n" +
                      bold(std::string("hollowtop ") + command.name) + " [" + slanted("OPTIONS") + "]" +
                      (*command.names == '\0' ? "" : " " + slanted(command.names)) + "\n.PP\n" +
                      plain(command.one_line) + "\n.PP\n" + plain(command.text) + '\n';
    for (const Option& option : command.options)
        out += ".TP\n" + (*option.also == '\0' ? "" : bold(option.also) + ", ") + bold(option.name) +
               (*option.value == '\0' ? "" : " " + slanted(option.value)) + '\n' + plain(option.text) + '\n';
    return out + as_typed(command.example);
}

std::string with_label(std::string_view label, std::string_view text) {
    return ".TP\n" + bold(label) + '\n' + plain(text) + '\n';
}

} // namespace

std::string manual_page() {
    std::string out = std::string(".\\\" made by: hollowtop manual\n.TH HOLLOWTOP 1 \"\" \"hollowtop ") +
                      program_version + "\" \"User Commands\"\n.SH NAME\nhollowtop \\- " +
                      "may a solid\\-wood tabletop be hollowed from below, how deep, and how will it hold\n"
                      ".SH SYNOPSIS\n" +
                      bold("hollowtop") + ' ' + slanted("COMMAND") + " [" + slanted("OPTIONS") + "] [" +
                      slanted("NAME...") + "]\n.SH COMMANDS\n";
    for (const Command& command : commands()) out += section_of(command);
    out += ".SH EXIT STATUS\n";
    out += with_label("0", "ran, and every check passes");
    out += with_label("1", "ran, and a check fails");
    out += with_label("2", "the input or the command line is wrong; nothing was computed or written");
    out += with_label("3", "it could not be computed or written");
    out += ".SH ENVIRONMENT\n";
    out += with_label("NO_COLOR", "where set and not empty: no colour");
    out +=
        with_label("HOLLOWTOP_LEVEL", "2, 3 or 4: of a package that holds the program for several levels of "
                                      "processors (x86-64-v2 to v4), run that one");
    out += ".SH CAUTIONS\n";
    for (const Message& caution : cautions()) out += ".IP \\(bu 2\n" + plain(in_own_units(caution)) + '\n';
    for (const Message& caution : router_cautions())
        out += ".IP \\(bu 2\n" + plain(in_own_units(caution)) + '\n';
    return out;
}

} // namespace hollowtop::cli
