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

TEST_CASE("completion of each shell knows every command and every option", "[command_line]") {
    const std::string shell = GENERATE("bash", "zsh", "fish");
    const Ran ran = run({"completion", shell});
    CHECK(ran.status == 0);
    CHECK(ran.err.empty());
    std::size_t n_options = 0;
    for (const Command& command : hollowtop::cli::commands()) {
        CAPTURE(shell, command.name);
        CHECK(ran.out.find(command.name) != std::string::npos);
        for (const Option& option : command.options) {
            CAPTURE(option.name);
            const std::string name =
                shell == "fish" ? " -l " + std::string(option.name).substr(2) : option.name;
            CHECK(ran.out.find(name) != std::string::npos);
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
