// SPDX-License-Identifier: MIT
// Ten pieces as people draw them (tests/command_line/drawn, all invented), each answered as a maker sees it. What is
// printed stands beside each drawing, as NAME.txt; HOLLOWTOP_UPDATE_DOCS=1 writes it anew: look at the difference.
#include "tests/command_line/run_for_tests.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace {

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

/// The drawing named is answered in forty lines, as the file beside it says, and nothing is called apart that is not.
void answered(const std::string& name, int status) {
    const std::string drawing = of_the_project("tests/command_line/drawn/" + name + ".json"),
                      answer_file = of_the_project("tests/command_line/drawn/" + name + ".txt");
    const Folder folder;
    const std::string copy = folder.put(name + ".json", content_of(drawing)),
                      json = folder.path() + "/out.json";
    const Ran ran = run({"check", copy, "--json", json});
    CHECK(ran.err.empty());
    CHECK(ran.status == status);
    std::vector<std::string> lines = lines_of(ran.out);
    CHECK(lines.size() <= 40);
    for (const std::string& line : lines) {
        CAPTURE(line);
        CHECK(line.size() <= 100);
    }
    REQUIRE_FALSE(lines.empty());
    while (!lines.empty() && lines.front().find("This top") != 0)
        lines.erase(lines.begin()); // names the folder
    std::string printed;
    for (const std::string& line : lines) printed += line + '\n';
    if (std::getenv("HOLLOWTOP_UPDATE_DOCS") != nullptr) std::ofstream(answer_file) << printed;
    CHECK(printed == content_of(answer_file));
    CHECK(printed.find("estimate by hand") == std::string::npos); // both theories agree on what is ordinary
    const auto result = nlohmann::json::parse(content_of(json));
    CHECK((result.at("verdict") == "passes") == (status == 0));
    if (status == 1) {
        CHECK(printed.find("\nEnough is ") != std::string::npos);
        CHECK(result.at("remedies").at(0).at("helps") == true);
    }
}

} // namespace

TEST_CASE("a dining table on two trestles: from the drawing to the answer", "[command_line][drawn]") {
    answered("01_trestle_table", 0);
}

TEST_CASE("a desk with a pen tray: from the drawing to the answer", "[command_line][drawn]") {
    answered("02_desk_with_drawer", 0);
}

TEST_CASE("a console on a wall: from the drawing to the answer", "[command_line][drawn]") {
    answered("03_console_on_a_wall", 0);
}

TEST_CASE("an island with an overhang: from the drawing to the answer", "[command_line][drawn]") {
    answered("04_island_with_overhang", 0);
}

TEST_CASE("a round table on a pedestal: from the drawing to the answer", "[command_line][drawn]") {
    answered("05_round_pedestal", 0);
}

TEST_CASE("a table from a slab: from the drawing to the answer", "[command_line][drawn]") {
    answered("06_slab", 0);
}

TEST_CASE("a bench seat that is hollowed too far: from the drawing to the answer", "[command_line][drawn]") {
    answered("07_bench_seat", 1);
}

TEST_CASE("a conference table with a channel: from the drawing to the answer", "[command_line][drawn]") {
    answered("08_conference_table", 0);
}

TEST_CASE("a hall table in inches: from the drawing to the answer", "[command_line][drawn]") {
    answered("09_in_inches", 0);
}

TEST_CASE("a table of plywood: from the drawing to the answer", "[command_line][drawn]") {
    answered("10_sheet", 0);
}

TEST_CASE("the README shows what is printed of the reading table", "[command_line][drawn]") {
    const Ran ran = run({"check", of_the_project("docs/examples/reading_table.json")});
    const std::vector<std::string> printed = lines_of(ran.out),
                                   shown = lines_of(content_of(of_the_project("README.md")));
    std::size_t at = 0;
    while (at < shown.size() && shown[at] != "    $ hollowtop check docs/examples/reading_table.json") ++at;
    REQUIRE(at < shown.size());
    for (std::size_t k = 1; k < 16; ++k) { // the line before names the file
        const std::string& line = shown.at(at + 1 + k);
        CHECK((line.empty() ? line : line.substr(4)) == printed.at(k));
    }
}
