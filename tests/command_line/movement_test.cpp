// SPDX-License-Identifier: MIT
// `hollowtop movement` as it is typed: statuses, text, JSON against its schema.
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <sstream>
#include <string>

namespace {

/// A cherry top with a batten across the grain; `holes` as the piece file says it.
std::string piece_with(const std::string& holes) {
    const std::string text = R"json({"hollowtop": 1, "title": "Bench (invented)", "units": "mm",
      "top": {"length": 1400, "width": 800, "thickness": 36, "wood": "black cherry", "moisture": 9},
      "recesses": [{"name": "well", "rim": 120, "depth": 14}],
      "stiffeners": [{"name": "batten", "section": "flat 40x5", "metal": "S235", "from": [60, 40], "to": [60, 760],
                      "screws": {"diameter": 5, "length": 26, "spacing": 160, "holes": "HOLES"}}],
      "supports": [{"kind": "pad", "name": "left", "at": [100, 400], "size": [40, 300], "hold_down": true},
                   {"kind": "pad", "name": "right", "at": [1300, 400], "size": [40, 300]}],
      "loads": [{"name": "books", "kind": "area", "pressure": "0.5 kPa"}],
      "climate": {"low": {"temperature": "20 C", "humidity": 30}, "high": {"temperature": "20 C", "humidity": 65}}})json";
    const auto at = text.find("HOLES");
    return text.substr(0, at) + holes + text.substr(at + 5);
}

std::size_t widest_line(const std::string& text) {
    std::size_t widest = 0;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) widest = std::max(widest, line.size());
    return widest;
}

} // namespace

TEST_CASE("slotted holes let the top move, glue across the grain does not", "[command_line]") {
    const Folder folder;
    const std::string slotted = folder.put("slotted.json", piece_with("slotted"));
    const std::string bonded = folder.put("bonded.json", piece_with("bonded"));
    const std::string oversize = folder.put("oversize.json", piece_with("oversize"));
    const Ran free = run({"movement", slotted});
    CHECK(free.status == 0);
    CHECK(free.err.empty());
    CHECK(free.out.find("Nothing in this file holds the top back") != std::string::npos);
    CHECK(free.out.find("slot length") != std::string::npos);
    CHECK(free.out.find("a licensed engineer") != std::string::npos);
    CHECK(widest_line(free.out) <= 100);
    const Ran glued = run({"movement", bonded});
    CHECK(glued.status == 1);
    CHECK(glued.out.find("The top is held where it wants to move") != std::string::npos);
    CHECK(widest_line(glued.out) <= 100);
    CHECK(run({"movement", oversize}).status == 1);
    const Ran inches = run({"movement", "--units", "in", bonded});
    CHECK(inches.out.find(" psi") != std::string::npos);
    CHECK(inches.out.substr(0, inches.out.find("Taken for granted")).find(" mm") == std::string::npos);
    CHECK(widest_line(inches.out) <= 100);
    CHECK(run({"movement", "--quiet", bonded}).out.empty());
}

TEST_CASE("the JSON of movement obeys its schema and says what the text says", "[command_line]") {
    const Folder folder;
    std::vector<std::string> results;
    for (const char* holes : {"slotted", "round", "oversize", "bonded"}) {
        const std::string file = folder.put(std::string(holes) + "_piece.json", piece_with(holes));
        results.push_back(folder.path() + "/" + holes + ".json");
        const Ran ran = run({"movement", file, "--json", results.back()});
        CHECK(ran.err.empty());
        CHECK(ran.status <= 1);
    }
    const auto slotted = nlohmann::json::parse(content_of(results.front()));
    CHECK(slotted["verdict"] == "passes");
    // 800 mm of cherry, C_T 0.00248 a point (Wood Handbook table 13-5)
    const double points = slotted["climate"]["damp"]["moisture_percent"].get<double>() - 9;
    CHECK(std::abs(slotted["width"]["grows_mm"].get<double>() - 800 * 0.00248 * points) < 1e-6);
    CHECK(slotted["stiffeners"][0]["restraint"].is_null());
    CHECK(nlohmann::json::parse(content_of(results.back()))["verdict"] == "fails");
    const std::string python = "/usr/bin/python3";
    if (run_other({python, "-c", "import jsonschema; jsonschema.Draft202012Validator"}).status != 0) {
        WARN("NOT CHECKED: the schema needs Debian's python3-jsonschema");
        return;
    }
    std::vector<std::string> command{python, of_the_project("tests/command_line/check_schema.py"),
                                     of_the_project("docs/movement.schema.json")};
    command.insert(command.end(), results.begin(), results.end());
    const Ran checked = run_other(command);
    CHECK(checked.out == "");
    CHECK(checked.err == "");
    CHECK(checked.status == 0);
}

TEST_CASE("twice the difference between the faces cups twice as far", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("piece.json", piece_with("slotted"));
    const auto cup = [&](const std::string& points) {
        const Ran ran = run({"movement", file, "--difference", points, "--json", "-"});
        return nlohmann::json::parse(ran.out)["cupping"]["uneven"]["across"]["rise_mm"].get<double>();
    };
    const double one = cup("1");
    CHECK(one > 0.5);
    CHECK(std::abs(cup("2") / one - 2) < 1e-6);
    CHECK(std::abs(cup("-1") / one + 1) < 1e-6);
}

TEST_CASE("the help of movement names its options and what the statuses mean", "[command_line]") {
    const Ran ran = run({"movement", "--help"});
    CHECK(ran.status == 0);
    for (const char* word :
         {"Usage: hollowtop movement [OPTIONS] PIECE", "--difference POINTS", "Exit status: 0", "Cautions"}) {
        CAPTURE(word);
        CHECK(ran.out.find(word) != std::string::npos);
    }
    CHECK(widest_line(ran.out) <= 100);
    CHECK(run({"--help"}).out.find("  movement ") != std::string::npos);
}

TEST_CASE("what movement cannot answer is told in words", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("piece.json", piece_with("slotted"));
    CHECK(run({"movement"}).err == "hollowtop movement: PIECE is missing; write hollowtop movement PIECE\n");
    CHECK(run({"movement", file, "--difference", "much"}).err ==
          "hollowtop: --difference: \"much\" is no difference of moisture; give points from -20 to 20, "
          "such as 2\n");
    std::string sheet = piece_with("slotted");
    const std::string wood = R"("wood": "black cherry")";
    sheet.replace(
        sheet.find(wood), wood.size(),
        R"("elastic": {"E1": "4000 MPa", "E2": "4000 MPa", "nu12": 0.3, "G12": "1500 MPa", "G13": "1500 MPa", "G23": "1500 MPa", "density": 700})");
    const std::string sheet_file = folder.put("sheet.json", sheet);
    const Ran ran = run({"movement", sheet_file});
    CHECK(ran.status == 2);
    CHECK(ran.err ==
          sheet_file +
              ": top.elastic: how far a material of stated constants moves with its moisture is not known; "
              "name a wood under \"top\"\n");
}
