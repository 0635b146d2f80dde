// SPDX-License-Identifier: MIT
// The program as it is typed: help, versions, options and their slips. Whole messages are compared.
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>
#include <vector>

namespace {

using Words = std::vector<std::string>;

/// The longest line, counted in characters.
std::size_t widest_line(const std::string& text) {
    std::size_t widest = 0;
    std::size_t width = 0;
    for (const char c : text) {
        if (c == '\n') {
            widest = std::max(widest, width);
            width = 0;
        } else if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) {
            ++width;
        }
    }
    return std::max(widest, width);
}

} // namespace

TEST_CASE("the help lists the commands that work, an example and the cautions", "[command_line]") {
    const Ran ran = run({"--help"});
    CHECK(ran.status == 0);
    CHECK(ran.err.empty());
    for (const char* word : {"  check ", "  survey ", "  report ", "  boardtest ", "  prooftest ", "  new ",
                             "  template ", "  validate ", "  uses ", "  materials ", "  sections ",
                             "  page ", "Example", "hollowtop check docs/examples/reading_table.json",
                             "Cautions", "a licensed engineer", "not a ladder"}) {
        CAPTURE(word);
        CHECK(ran.out.find(word) != std::string::npos);
    }
    CHECK(widest_line(ran.out) <= 100);
    CHECK(run({"-h"}).out == ran.out);
    CHECK(run({"help"}).out == ran.out);
}

TEST_CASE("each command's help has a usage line, its options, an example and the cautions",
          "[command_line]") {
    const auto [command, usage] = GENERATE(table<std::string, std::string>({
        {"check", "Usage: hollowtop check [OPTIONS] PIECE..."},
        {"validate", "Usage: hollowtop validate [OPTIONS]"},
        {"uses", "Usage: hollowtop uses [OPTIONS] [NAME]"},
        {"materials", "Usage: hollowtop materials [OPTIONS] [NAME]"},
        {"sections", "Usage: hollowtop sections [OPTIONS] [FILTER]"},
    }));
    CAPTURE(command);
    const Ran ran = run({command, "--help"});
    CHECK(ran.status == 0);
    CHECK(ran.out.find(usage + '\n') != std::string::npos);
    CHECK(ran.out.find("Example\n  hollowtop " + command) != std::string::npos);
    CHECK(ran.out.find("--help") != std::string::npos);
    CHECK(ran.out.find("Cautions") != std::string::npos);
    CHECK(widest_line(ran.out) <= 100);
}

TEST_CASE("the version is one line", "[command_line]") {
    const Ran ran = run({"--version"});
    CHECK(ran.status == 0);
    CHECK(ran.out.substr(0, 10) == "hollowtop ");
    CHECK(ran.out.find('\n') == ran.out.size() - 1);
}

TEST_CASE("each slip on the command line is told in words, and nothing is computed", "[command_line]") {
    const std::string piece = of_the_project("docs/examples/counter.json");
    struct Slip {
        Words words;
        std::string message;
    };
    // clang-format off
    const auto slip = GENERATE_COPY(values<Slip>({
        {{}, "hollowtop: a command is missing; see hollowtop --help\n"},
        {{""}, "hollowtop: a command is missing; see hollowtop --help\n"},
        {{"chekc", piece}, "hollowtop: chekc: no such command; did you mean \"check\"?\n"},
        {{"juggle"}, "hollowtop: juggle: no such command; see hollowtop --help\n"},
        {{"--quiet"}, "hollowtop: --quiet: no such option; see hollowtop --help\n"},
        {{"check"}, "hollowtop check: PIECE... is missing; write hollowtop check PIECE...\n"},
        {{"check", piece, "--jsn", "x"}, "hollowtop check: --jsn: no such option; did you mean \"--json\"?\n"},
        {{"check", piece, "--wobble"}, "hollowtop check: --wobble: no such option; see hollowtop check --help\n"},
        {{"check", piece, "--json"}, "hollowtop check: --json: a value is missing; write --json FILE\n"},
        {{"check", piece, "--mesh", "coarse", "--mesh", "fine"}, "hollowtop check: --mesh: this option is given twice; keep one of them\n"},
        {{"check", piece, "--quiet=loud"}, "hollowtop check: --quiet: this option takes no value; leave the value out\n"},
        {{"check", piece, "--units", "cm"}, "hollowtop: --units: \"cm\" is not known here; give mm or in\n"},
        {{"check", piece, "--mesh", "rough"}, "hollowtop: --mesh: \"rough\" is no fineness; give coarse, normal, fine or a length such as 25mm or 1in\n"},
        {{"check", piece, "--mesh", "25"}, "hollowtop: --mesh: \"25\" is no fineness; give coarse, normal, fine or a length such as 25mm or 1in\n"},
        {{"check", piece, "--mesh", "0.1mm"}, "hollowtop: --mesh: \"0.1mm\" is out of reach; give 1 mm to 1000 mm\n"},
        {{"check", piece, "--threads", "0"}, "hollowtop: --threads: \"0\" is no number of threads; give a whole number from 1 to 256\n"},
        {{"check", piece, "--threads", "two"}, "hollowtop: --threads: \"two\" is no number of threads; give a whole number from 1 to 256\n"},
        {{"validate", "all"}, "hollowtop validate: \"all\": this command takes no such word; see hollowtop validate --help\n"},
        {{"materials", "oak", "ash"}, "hollowtop materials: \"ash\": one word too many; see hollowtop materials --help\n"},
        {{"sections", "zzz"}, "hollowtop: \"zzz\": no section is called so; give a part of a name such as \"L30\" or \"channel\", or a section such as \"angle 30x30x3\"\n"},
    }));
    // clang-format on
    CAPTURE(slip.words);
    const Ran ran = run(slip.words);
    CHECK(ran.err == slip.message);
    CHECK(ran.out.empty());
    CHECK(ran.status == 2);
}

TEST_CASE("a material is shown with every value and its source", "[command_line]") {
    const Ran wood = run({"materials", "Black Cherry"});
    CHECK(wood.status == 0);
    CHECK(wood.out.find("Prunus serotina") != std::string::npos);
    CHECK(wood.out.find("Wood Handbook") != std::string::npos);
    CHECK(wood.out.find("tension across") != std::string::npos);
    const Ran metal = run({"materials", "S235", "--units", "in"});
    CHECK(metal.out.find("EN 1993-1-1") != std::string::npos);
    CHECK(metal.out.find(" psi") != std::string::npos);
    const Ran list = run({"materials"});
    CHECK(list.out.find("cherry_black") != std::string::npos);
    CHECK(list.out.find("S235") != std::string::npos);
    CHECK(widest_line(list.out) <= 100);
    CHECK(run({"materials", "oak"}).status == 2);
}

TEST_CASE("sections are listed, filtered and worked out as they hang under a top", "[command_line]") {
    const Ran all = run({"sections"});
    const Ran channels = run({"sections", "channel"});
    CHECK(all.status == 0);
    CHECK(channels.out.size() < all.out.size());
    CHECK(channels.out.find("angle") == std::string::npos);
    CHECK(widest_line(all.out) <= 100);
    const Ran one = run({"sections", "bar 20x60"});
    CHECK(one.status == 0);
    CHECK(one.out.find("360000 mm4") != std::string::npos); // 20 x 60^3 / 12
}

TEST_CASE("a use is shown with its loads, its limits and their sources, and claims no standard",
          "[command_line]") {
    const Ran one = run({"uses", "kitchen worktop"});
    CHECK(one.status == 0);
    CHECK(one.out.find("\"counter\"") != std::string::npos);
    CHECK(one.out.find("1000 N") != std::string::npos);
    CHECK(one.out.find("standard not seen") != std::string::npos);
    CHECK(one.out.find("a standard is met, or not") != std::string::npos);
    CHECK(widest_line(one.out) <= 100);
    const Ran list = run({"uses"});
    CHECK(list.out.find("workbench") != std::string::npos);
    CHECK(widest_line(list.out) <= 100);
    const Ran slip = run({"uses", "dinning"});
    CHECK(slip.status == 2);
    CHECK(slip.err.find("did you mean \"dining\"?") != std::string::npos);
}
