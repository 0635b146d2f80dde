// SPDX-License-Identifier: MIT
// `hollowtop boardtest` as it is typed: what it tells, what it writes, what it asks back.
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <sstream>
#include <string>
#include <vector>

namespace {

using Words = std::vector<std::string>;
using Json = nlohmann::json;

std::size_t widest_line(const std::string& text) {
    std::size_t widest = 0;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) widest = std::max(widest, line.size());
    return widest;
}

/// An oak board (invented) of E 12 500 MPa, E/G 15: what the gauge shows by Timoshenko's beam.
constexpr double b = 200, h = 40, span = 1500, E = 12500;
std::string shown(double kg) {
    const double F = kg * 9.80665;
    char text[32];
    std::snprintf(text, sizeof text, "%.4f",
                  F * span * span * span / (4 * E * b * h * h * h) * (1 + 1.2 * 15 * h * h / (span * span)));
    return text;
}

Words board(const Words& more) {
    Words words{"boardtest", "--length", "1800", "--width", "200", "--thickness", "40"};
    words.insert(words.end(), more.begin(), more.end());
    return words;
}
Words bent(const Words& more = {}) {
    Words words = board({"--span", "1500", "--load", "0, 5, 10, 15, 20 kg", "--reading",
                         shown(0) + "," + shown(5) + "," + shown(10) + "," + shown(15) + "," + shown(20)});
    words.insert(words.end(), more.begin(), more.end());
    return words;
}

std::string flat(std::string text) {
    std::string out;
    for (const char c : text)
        if (c != '\n' && !(c == ' ' && !out.empty() && out.back() == ' '))
            out += c;
        else if (c == '\n' && !out.empty() && out.back() != ' ')
            out += ' ';
    return out;
}

} // namespace

TEST_CASE("a bend test prints the line to paste, a tenth under the stiffness without shear",
          "[command_line]") {
    const Ran ran = run(bent({"--mass", "10.1 kg", "--json", "-"}));
    CHECK(ran.err == "");
    REQUIRE(ran.status == 0);
    const Json json = Json::parse(ran.out);
    CHECK(std::abs(json["E_MPa"].get<double>() / E - 1) < 1e-3);
    CHECK(std::abs(json["measured"]["E_along"].get<double>() - E / 1.10) <= 10);
    CHECK(json["measured"]["density"] == 701); // 10.1 kg / (1.8 x 0.2 x 0.04 m3)
    // thickness 0.1 in 40, shear a little, and loads, gauge, the board itself: docs/guide/06-your-own-board.md
    const double u = json["measured"]["uncertainty"]["E_along"].get<double>();
    CHECK(u > 2.2);
    CHECK(u < 3.2);
    const Ran text = run(bent({"--mass", "10.1 kg", "--wood", "white oak"}));
    CHECK(text.out.find("\"measured\": {\"E_along\": ") != std::string::npos);
    CHECK(text.out.find("narrows the band from +-36 %") != std::string::npos);
    CHECK(text.out.find("a licensed engineer") != std::string::npos);
    CHECK(widest_line(text.out) <= 100);
    CHECK(run(bent({"--quiet"})).out.empty());
}

TEST_CASE("the measured line of a board is taken by the check, and a stiffer board sags less",
          "[command_line]") {
    const Folder folder;
    const auto sag = [&](double E_along) {
        const std::string file = folder.put("piece.json", R"({"hollowtop": 1, "units": "mm",
          "top": {"length": 1500, "width": 700, "thickness": 30, "wood": "white oak", "measured": {"E_along": )" +
                                                              std::to_string(E_along) + R"(, "density": 701}},
          "supports": [{"kind": "bearer", "from": [100, 50], "to": [100, 650], "width": 60},
                       {"kind": "bearer", "from": [1400, 50], "to": [1400, 650], "width": 60}],
          "loads": [{"name": "books", "kind": "area", "pressure": "0.5 kPa"}]})");
        return Json::parse(run({"check", file, "--json", "-"}).out)["situations"][0]["sag_mm"].get<double>();
    };
    const Json json = Json::parse(run(bent({"--mass", "10.1 kg", "--json", "-"})).out);
    const double measured = json["measured"]["E_along"].get<double>();
    CHECK(std::abs(sag(measured) / sag(2 * measured) - 2) < 0.03); // bends by E alone, nearly
}

TEST_CASE("readings in a file, several series and taps are put together, and odd ones are told",
          "[command_line]") {
    const Folder folder;
    const auto series = [&](const char* name, double factor) {
        std::string text = "Belastung (kg);Anzeige (mm)\n";
        for (const double kg : {0.0, 5.0, 10.0, 15.0, 20.0}) {
            char line[64];
            std::snprintf(line, sizeof line, "%g;%.3f\n", kg, 0.1 + factor * std::stod(shown(kg)));
            for (char* c = line; *c != '\0'; ++c)
                if (*c == '.') *c = ',';
            text += line;
        }
        return folder.put(name, text);
    };
    const std::string front = series("front.csv", 1), back = series("back.csv", 1.01),
                      soft = series("soft.csv", 1.3);
    const Words two = board({"--span", "1500", "--readings", front, "--readings", back, "--json", "-"});
    const Json both = Json::parse(run(two).out);
    CHECK(both["tests"].size() == 2);
    CHECK(both["at_odds"] == false);
    CHECK(std::abs(both["E_MPa"].get<double>() / (E / 1.005) - 1) < 2e-3);
    CHECK(both["uncertainty_percent"].get<double>() < both["tests"][0]["uncertainty_percent"].get<double>());
    const Ran odd = run(board({"--span", "1500", "--readings", front, "--readings", soft}));
    CHECK(odd.status == 0);
    CHECK(flat(odd.out).find("more than their bands explain") != std::string::npos);
    // by hand: 1.175 x 12 500 MPa, 701.4 kg/m3
    const Json tones =
        Json::parse(run(board({"--mass", "10.1 kg", "--along", "1271 Hz", "--json", "-"})).out);
    CHECK(std::abs(tones["E_MPa"].get<double>() / (4 * 1.8 * 1.8 * 1271 * 1271 * 701.39e-6 / 1.175) - 1) <
          1e-3);
}

TEST_CASE("bad readings each get an answer that helps", "[command_line]") {
    const auto told = [](const Words& words) {
        const Ran ran = run(words);
        CHECK(ran.status == 2);
        CHECK(ran.out == "");
        return flat(ran.err);
    };
    const Words oak{"--wood", "white oak"};
    const auto with = [&](const std::string& loads, const std::string& readings,
                          Words more = {"--wood", "white oak"}) {
        Words words = board({"--span", "1500", "--load", loads, "--reading", readings});
        words.insert(words.end(), more.begin(), more.end());
        return words;
    };
    CHECK(told(with("0, 5, 10, 15, 20", "0, 0.26, 0.53, 0.79, 1.05"))
              .find("the loads may be kilograms, read as newtons") != std::string::npos);
    CHECK(told(with("0, 5, 10, 15, 20 kg", "0, 0.026, 0.053, 0.079, 0.105"))
              .find("the readings may be centimetres") != std::string::npos);
    CHECK(told(with("0, 0.26, 0.53, 0.79, 1.05 N", "0, 50, 100, 150, 200 mm"))
              .find("the columns may stand in the other order") != std::string::npos);
    CHECK(told(with("0, 5, 10 kg", "0,26; 0,53")).find("3 loads and 2 readings do not pair") !=
          std::string::npos);
    CHECK(told(with("0, 5, 10 kg", "0, 0.26, 0.53", {"--gauge", "none"})).find("--gauge") !=
          std::string::npos);
    CHECK(told(bent({"--wood", "oak"})).find("--wood") != std::string::npos);
    CHECK(told(bent({"--error", "thicknes=0.1 mm"})).find("names no error that is known") !=
          std::string::npos);
    Words thick = bent(oak);
    thick[6] = "4";
    CHECK(told(thick).find("the thickness may be centimetres") != std::string::npos);
    thick[6] = "400";
    CHECK(told(thick).find("the board lies flat") != std::string::npos);
    Words shorter = bent(oak);
    shorter[2] = "180";
    CHECK(told(shorter).find("is a block") != std::string::npos);
    shorter[2] = "1400";
    CHECK(told(shorter).find("is longer than the board") != std::string::npos);
    CHECK(told(board({"--mass", "10.1 g"})).find("no wood has") == std::string::npos);
    CHECK(told(board({"--mass", "101 kg"})).find("7014 kg/m3, which no wood has") != std::string::npos);
    CHECK(told(board({"--mass", "10.1 kg", "--tone", "152 Hz", "--wood", "white oak"})).find("second tone") !=
          std::string::npos);
    CHECK(told(board({"--tone", "56 Hz"})).find("a tone needs the weight of the board") != std::string::npos);
    CHECK(told(board({})).find("nothing was tested") != std::string::npos);
    CHECK(told({"boardtest"}).find("--width: this option is missing") != std::string::npos);
    CHECK(told(board({"--span", "1500", "--readings", "nowhere.csv"})).find("nowhere.csv") !=
          std::string::npos);
    CHECK(told(bent({"--piece-moisture", "9"})).find("give --moisture too") != std::string::npos);
}

TEST_CASE("a reading off the line is told and kept, not dropped", "[command_line]") {
    const Ran ran =
        run(board({"--span", "1500", "--load", "0, 5, 10, 15, 20 kg", "--reading",
                   shown(0) + "," + shown(5) + "," + shown(13) + "," + shown(15) + "," + shown(20)}));
    CHECK(ran.status == 0);
    CHECK(flat(ran.out).find("reading 3 (") != std::string::npos);
}

TEST_CASE("the bench sheet says what to expect and stays within a hundred columns", "[command_line]") {
    const Ran ran = run(board({"--sheet", "--wood", "white oak"}));
    CHECK(ran.status == 0);
    for (const char* word : {"Bench sheet", "between their middles", "Expected near",
                             "Thickness at nine places", "hollowtop boardtest"})
        CHECK(flat(ran.out).find(word) != std::string::npos);
    CHECK(widest_line(ran.out) <= 100);
    const Ran inches = run(
        {"boardtest", "--length", "70", "--width", "8", "--thickness", "1-1/2", "--sheet", "--units", "in"});
    CHECK(inches.status == 0);
    CHECK(inches.out.find(" lb") != std::string::npos);
    CHECK(inches.out.find(" kg ") == std::string::npos);
    CHECK(widest_line(inches.out) <= 100);
}

TEST_CASE("a strip across the grain is told as such and writes no stiffness along it", "[command_line]") {
    // 300 x 30 x 12 mm, E 900 MPa, E/G 7.5: by Timoshenko's beam over 250 mm
    const auto d = [](double F) {
        const double L = 250, w = 30, t = 12;
        return std::to_string(F * L * L * L / (4 * 900 * w * t * t * t) * (1 + 1.2 * 7.5 * t * t / (L * L)));
    };
    const Ran ran = run({"boardtest",   "--across",
                         "--length",    "300",
                         "--width",     "30",
                         "--thickness", "12",
                         "--mass",      "0.076 kg",
                         "--error",     "mass=1e-3 kg",
                         "--span",      "250",
                         "--load",      "0, 2, 4, 6, 8 N",
                         "--reading",   d(0) + "," + d(2) + "," + d(4) + "," + d(6) + "," + d(8),
                         "--json",      "-"});
    CHECK(ran.err == "");
    const Json json = Json::parse(ran.out);
    CHECK(std::abs(json["E_MPa"].get<double>() / 900 - 1) < 0.01);
    CHECK_FALSE(json["measured"].contains("E_along"));
}

TEST_CASE("the JSON of boardtest obeys its schema", "[command_line]") {
    const Folder folder;
    const std::string one = folder.path() + "/one.json", two = folder.path() + "/two.json",
                      three = folder.path() + "/three.json";
    CHECK(run(bent({"--quiet", "--json", one})).status == 0);
    CHECK(run(bent({"--quiet", "--json", two, "--mass", "10.1 kg", "--tone", "56 Hz", "--along", "1280",
                    "--wood", "white oak", "--moisture", "9"}))
              .status == 0);
    CHECK(run(board({"--quiet", "--json", three, "--mass", "10.1 kg"})).status == 0);
    const std::string python = "/usr/bin/python3";
    if (run_other({python, "-c", "import jsonschema; jsonschema.Draft202012Validator"}).status != 0) {
        WARN("NOT CHECKED: the schema needs Debian's python3-jsonschema");
        return;
    }
    const Ran checked = run_other({python, of_the_project("tests/command_line/check_schema.py"),
                                   of_the_project("docs/boardtest.schema.json"), one, two, three});
    CHECK(checked.out == "");
    CHECK(checked.err == "");
    CHECK(checked.status == 0);
}
