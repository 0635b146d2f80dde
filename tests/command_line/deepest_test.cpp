// SPDX-License-Identifier: MIT
// The program's `deepest`, as a maker or a script uses it.
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <sstream>

using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;

namespace {

std::string tray(const std::string& depth, const std::string& force, const std::string& limits = "") {
    return R"({"hollowtop": 1, "title": "Tray", "units": "mm", "top": {"length": 600, "width": 300, "thickness": 20, "wood": "black cherry"},
  "recesses": [{"name": "well", "x": [80, 520], "y": [60, 240], "depth": )" +
           depth + R"(}],
  "supports": [{"kind": "pad", "at": [30, 30], "size": [40, 40], "hold_down": true}, {"kind": "pad", "at": [570, 30], "size": [40, 40], "hold_down": true},
    {"kind": "pad", "at": [30, 270], "size": [40, 40], "hold_down": true}, {"kind": "pad", "at": [570, 270], "size": [40, 40], "hold_down": true}],
  "loads": [{"name": "pot", "kind": "patch", "force": ")" +
           force + R"(", "at": [300, 150], "size": [80, 80]}])" + limits + "}";
}

} // namespace

TEST_CASE("deepest gives a depth that check passes, a tenth of a millimetre under one that it fails",
          "[command_line][slow]") {
    const Folder folder;
    const std::string file = folder.put("tray.json", tray("8", "300 N")), json = folder.path() + "/out.json",
                      svg = folder.path() + "/out.svg";
    const Ran ran =
        run({"deepest", file, "--mesh", "coarse", "--json", json, "--svg", svg, "--least-skin", "4"});
    CHECK(ran.err.empty());
    CHECK(ran.status == 0);
    CHECK_THAT(ran.out, Contains("how deep may the recess be?") && Contains("meets the limits set") &&
                            Contains("not a test"));
    std::istringstream lines(ran.out);
    for (std::string line; std::getline(lines, line);) CHECK(line.size() <= 100);
    CHECK_THAT(content_of(svg), Contains("limit"));
    const auto answer = nlohmann::json::parse(content_of(json));
    CHECK(answer["verdict"] == "found");
    const double passing = answer["passing"]["depth_mm"], failing = answer["failing"]["depth_mm"];
    CHECK_THAT(failing - passing, WithinAbs(0.1, 1e-9));
    CHECK_THAT(answer["passing"]["skin_mm"].get<double>(), WithinAbs(20 - passing, 1e-9));
    CHECK_FALSE(answer["stopped_by"].empty());
    const auto checked = [&](double depth) {
        const Ran one = run({"check", folder.put("one.json", tray(std::to_string(depth), "300 N")), "--mesh",
                             "coarse", "--json", "-"});
        return nlohmann::json::parse(one.out);
    };
    const auto inside = checked(passing), beyond = checked(failing);
    CHECK(inside["verdict"] == "passes");
    CHECK(beyond["verdict"] == "fails");
    CHECK(beyond["governing"]["check"] == answer["stopped_by"][0]);
    CHECK_THAT(inside["governing"]["utilisation"].get<double>() /
                   answer["passing"]["governing"]["utilisation"].get<double>(),
               WithinAbs(1, 1e-8));
}

TEST_CASE("a top that never passes, and one that always does, are answered in words",
          "[command_line][slow]") {
    const Folder folder;
    const Ran never =
        run({"deepest", folder.put("a.json", tray("8", "300 N", R"(, "limits": {"sag": "0.0001 mm"})")),
             "--mesh", "coarse"});
    CHECK(never.status == 1);
    CHECK_THAT(never.out, Contains("No depth that was looked at meets the limits set, not even 1.0 mm.") &&
                              Contains("stopped by") && Contains("sag at once"));
    const std::vector<std::string> asked{
        "deepest", folder.put("b.json", tray("8", "1 N")), "--mesh", "coarse", "--least-skin", "12"};
    const Ran always = run(asked);
    CHECK(always.status == 0);
    CHECK_THAT(always.out,
               Contains("Every depth that was looked at meets the limits set, down to a skin of 12.0 mm."));
    std::vector<std::string> in_inches = asked;
    in_inches.insert(in_inches.end(), {"--units", "in"});
    const std::string inches = run(in_inches).out;
    CHECK_THAT(inches, Contains("down to a skin of 0.472 in.") &&
                           Contains("0.039 in less board is 0.039 in less skin") && !Contains(" mm"));
}

TEST_CASE("the narrowest rim is sought at the depth that is drawn", "[command_line][slow]") {
    const Folder folder;
    const Ran ran = run({"deepest", "--widest", "--json", "-", "--mesh", "coarse",
                         folder.put("a.json", tray("13", "300 N"))});
    CHECK(ran.err.empty());
    const auto answer = nlohmann::json::parse(ran.out);
    CHECK(answer["sought"] == "rim");
    REQUIRE_FALSE(answer["passing"].is_null());
    CHECK(answer["passing"]["skin_mm"] == 7.0);
    if (!answer["failing"].is_null())
        CHECK_THAT(answer["passing"]["rim_mm"].get<double>() - answer["failing"]["rim_mm"].get<double>(),
                   WithinAbs(0.1, 1e-9));
}

TEST_CASE("what deepest cannot seek is refused", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("a.json", tray("8", "300 N"));
    const auto refused = [&](std::vector<std::string> words) {
        words.insert(words.begin(), "deepest");
        const Ran ran = run(words);
        CHECK(ran.status == 2);
        return ran.err;
    };
    CHECK_THAT(refused({file, "--recess", "drawer"}), Contains("recesses: none is called \"drawer\""));
    CHECK_THAT(refused({file, "--least-rim", "20"}),
               Contains("--least-rim: the rim is not sought here; give --widest too"));
    CHECK_THAT(refused({file, "--least-skin", "19.5"}), Contains("no room for a recess"));
    CHECK_THAT(refused({file, "--least-skin", "0"}), Contains("leaves nothing"));
    CHECK_THAT(refused({file, "--json", file}), Contains("is the piece file itself"));
    CHECK_THAT(refused({of_the_project("docs/examples/no_such.json")}), Contains("no_such.json"));
}
