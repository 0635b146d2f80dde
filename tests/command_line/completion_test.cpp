// SPDX-License-Identifier: MIT
// What shells and man are given: made from the table of commands, so nothing that the help names is missing.
// How the shells take it: tests/install.
#include "cli/commands/command.hpp"
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>

using hollowtop::cli::Command;
using hollowtop::cli::Option;

namespace {

/// What the script offers after that command, as each shell has it.
std::string part_of(const std::string& script, const std::string& shell, const std::string& command) {
    if (shell == "fish") {
        std::string lines;
        const std::string seen = "__fish_seen_subcommand_from " + command + "'";
        for (std::size_t at = script.find(seen); at != std::string::npos; at = script.find(seen, at + 1))
            lines += script.substr(at, script.find('\n', at) - at) + '\n';
        return lines;
    }
    const std::size_t start = script.find("\n    " + command + ")");
    if (start == std::string::npos) return {};
    return script.substr(start, script.find(";;", start) - start);
}

bool offers(const std::string& part, const std::string& shell, const std::string& option) {
    const bool is_long = option.starts_with("--");
    if (shell == "bash")
        return (part + " ").find(option + " ") != std::string::npos ||
               part.find(option + "'") != std::string::npos;
    if (shell == "zsh")
        return part.find(option + "[") != std::string::npos || part.find(option + "=[") != std::string::npos;
    return part.find((is_long ? " -l " : " -s ") + option.substr(is_long ? 2 : 1) + " ") != std::string::npos;
}

} // namespace

TEST_CASE("completion of each shell knows every command and every option", "[command_line]") {
    const std::string shell = GENERATE("bash", "zsh", "fish");
    const Ran ran = run({"completion", shell});
    CHECK(ran.status == 0);
    CHECK(ran.err.empty());
    std::size_t n_options = 0;
    for (const Command& command : hollowtop::cli::commands()) {
        CAPTURE(shell, command.name);
        const std::string part = part_of(ran.out, shell, command.name);
        CHECK(!part.empty());
        for (const Option& option : command.options) {
            CAPTURE(option.name);
            CHECK(offers(part, shell, option.name));
            CHECK((*option.also == '\0' || offers(part, shell, option.also)));
            ++n_options;
        }
    }
    CHECK(n_options > 50);
}

TEST_CASE("a shell that is not known is refused, and a file takes the script", "[command_line]") {
    const Ran ran = run({"completion", "csh"});
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK(ran.err.find("\"csh\": no such shell here; give bash, zsh or fish") != std::string::npos);
    const Folder folder;
    const std::string file = folder.path() + "/script";
    CHECK(run({"completion", "bash", "--out", file}).status == 0);
    CHECK(content_of(file) == run({"completion", "bash"}).out);
}

TEST_CASE("the manual page holds every command with its options, and nothing of it is taken for a macro",
          "[command_line]") {
    const Ran ran = run({"manual"});
    CHECK(ran.status == 0);
    for (const Command& command : hollowtop::cli::commands()) {
        CAPTURE(command.name);
        const auto start = ran.out.find(std::string(".SS ") + command.name + "\n");
        REQUIRE(start != std::string::npos);
        const auto end = std::min(ran.out.find("\n.SS ", start), ran.out.find("\n.SH ", start));
        for (const Option& option : command.options) {
            std::string typed;
            for (const char c : std::string(option.name)) typed += c == '-' ? "\\-" : std::string(1, c);
            const auto at = ran.out.find("\\fB" + typed + "\\fR", start);
            CAPTURE(option.name);
            CHECK(at < end);
        }
    }
    for (std::size_t at = ran.out.find("\n."); at != std::string::npos; at = ran.out.find("\n.", at + 1)) {
        const std::string line = ran.out.substr(at + 1, ran.out.find('\n', at + 1) - at - 1);
        const std::string macro = line.substr(0, line.find(' '));
        CAPTURE(line);
        CHECK((macro == ".TH" || macro == ".SH" || macro == ".SS" || macro == ".PP" || macro == ".TP" ||
               macro == ".IP" || macro == ".nf" || macro == ".fi" || macro == ".RS" || macro == ".RE"));
    }
}
