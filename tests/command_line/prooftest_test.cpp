// SPDX-License-Identifier: MIT
// The proof test and the band of a check, as a person or a script would see them.
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <sstream>
#include <string>

namespace {

const std::string small =
    R"x({"hollowtop": 1, "title": "Stool top (invented)", "top": {"length": 600, "width": 360, "thickness": 24,
    "wood": "white ash", "boards": 3},
    "supports": [{"kind": "pad", "at": [50, 50], "size": [50, 50], "hold_down": true},
                 {"kind": "pad", "at": [550, 50], "size": [50, 50], "hold_down": true},
                 {"kind": "pad", "at": [50, 310], "size": [50, 50], "hold_down": true},
                 {"kind": "pad", "at": [550, 310], "size": [50, 50], "hold_down": true}],
    "loads": [{"name": "box", "kind": "patch", "force": "60 kg", "at": [300, 180], "size": [150, 150]}]
    })x";

std::size_t widest_line(const std::string& text) {
    std::istringstream in(text);
    std::size_t most = 0;
    for (std::string line; std::getline(in, line);) most = std::max(most, line.size());
    return most;
}

bool obeys(const std::string& schema, const std::string& file) {
    const std::string python = "/usr/bin/python3";
    if (run_other({python, "-c", "import jsonschema; jsonschema.Draft202012Validator"}).status != 0) {
        WARN("NOT CHECKED: the schemas need Debian's python3-jsonschema; sh cli/setup.sh tests installs it");
        return true;
    }
    return run_other(
               {python, of_the_project("tests/command_line/check_schema.py"), of_the_project(schema), file})
               .status == 0;
}

} // namespace

TEST_CASE("prooftest fits its page, and its JSON and sheet are whole", "[command_line]") {
    const Folder folder;
    const std::string piece = folder.put("stool.json", small);
    const Ran ran = run(
        {"prooftest", piece, "--json", folder.path() + "/p.json", "--sheet", folder.path() + "/sheet.html"});
    CHECK(ran.err.empty());
    CHECK(ran.status == 0);
    CHECK(widest_line(ran.out) <= 100);
    CHECK(std::count(ran.out.begin(), ran.out.end(), '\n') <= 60);
    CHECK(ran.out.find("Stop") != std::string::npos);
    CHECK(obeys("docs/prooftest.schema.json", folder.path() + "/p.json"));
    const std::string sheet = content_of(folder.path() + "/sheet.html");
    CHECK(sheet.find("<svg") != std::string::npos);
    CHECK(sheet.find("http") == std::string::npos);
    CHECK(sheet.ends_with("</html>\n"));
}

TEST_CASE("readings of a soft top are learned from, those in cm are refused, and nothing is written then",
          "[command_line]") {
    const Folder folder;
    const std::string piece = folder.put("stool.json", small);
    // what it should read at the whole load
    const Ran plain = run({"prooftest", piece, "--json", "-"});
    const auto number_after = [&](const std::string& key, std::size_t from) {
        const auto at = plain.out.find(key, from);
        REQUIRE(at != std::string::npos);
        return std::stod(plain.out.substr(at + key.size()));
    };
    const std::size_t whole = plain.out.find("\"share\": 1.0");
    REQUIRE(whole != std::string::npos);
    const double computed = number_after("\"computed_mm\": ", whole);
    const auto table = [&](double times) {
        std::string text = "load (%), A\n";
        for (const int share : {25, 50, 75, 100})
            text += std::to_string(share) + ", " + std::to_string(times * computed * share / 100) + "\n";
        return text;
    };
    const Ran soft = run({"prooftest", piece, "--readings", folder.put("soft.csv", table(1.2)), "--json",
                          folder.path() + "/soft.json"});
    CHECK(soft.err.empty());
    CHECK(soft.out.find("What the readings say") != std::string::npos);
    CHECK(widest_line(soft.out) <= 100);
    CHECK(obeys("docs/prooftest.schema.json", folder.path() + "/soft.json"));
    const Ran cm = run({"prooftest", piece, "--readings", folder.put("cm.csv", table(0.1)), "--json",
                        folder.path() + "/cm.json"});
    CHECK(cm.status == 2);
    CHECK(cm.err.find("they look like cm") != std::string::npos);
    CHECK(cm.out.empty());
    const std::vector<std::string> names = folder.names();
    CHECK(std::find(names.begin(), names.end(), "cm.json") == names.end());
    CHECK(run({"prooftest", piece, "--readings", folder.path() + "/none.csv"}).status == 2);
}

TEST_CASE("check tells how far such tops scatter where it is asked, and of one piece alone",
          "[command_line]") {
    const Folder folder;
    const std::string piece = folder.put("stool.json", small);
    const Ran ran = run({"check", "--band", piece, "--json", folder.path() + "/r.json"});
    CHECK(ran.status == 0);
    std::string unwrapped, word;
    for (std::istringstream words(ran.out); words >> word;) unwrapped += word + " ";
    CHECK(unwrapped.find("of ten tops made to this drawing nine") != std::string::npos);
    CHECK(widest_line(ran.out) <= 100);
    CHECK(obeys("docs/result.schema.json", folder.path() + "/r.json"));
    CHECK(content_of(folder.path() + "/r.json").find("\"uncertainty\"") != std::string::npos);
    CHECK(widest_line(run({"check", "--band", "--full", piece}).out) <= 100);
    CHECK(run({"check", "--band", piece, piece}).status == 2);
}
