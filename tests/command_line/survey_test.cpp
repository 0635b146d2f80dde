// SPDX-License-Identifier: MIT
// The program's `survey`, as a maker or a script uses it.
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cmath>
#include <sstream>

using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

std::string tray(const std::string& depth) {
    return R"({"hollowtop": 1, "title": "Tray, invented", "units": "mm", "top": {"length": 800, "width": 400, "thickness": 24, "wood": "black cherry"},
  "recesses": [{"name": "well", "x": [60, 740], "y": [60, 340], "depth": )" +
           depth + R"(}],
  "supports": [{"kind": "pad", "at": [30, 30], "size": [40, 40], "hold_down": true}, {"kind": "pad", "at": [770, 30], "size": [40, 40], "hold_down": true},
    {"kind": "pad", "at": [30, 370], "size": [40, 40], "hold_down": true}, {"kind": "pad", "at": [770, 370], "size": [40, 40], "hold_down": true}],
  "loads": [{"name": "books", "kind": "area", "pressure": "0.5 kPa", "duration": "long"}]})";
}

/// Invented: 1 mm deeper than drawn, tilted, with a gouge at 500, 220.
std::string readings(double unit = 1, const char* parting = ",") {
    std::ostringstream text;
    text << "x" << parting << "y" << parting << "thickness\n";
    for (int j = 0; j < 4; ++j)
        for (int i = 0; i < 6; ++i) {
            const double x = 100 + 120 * i, y = 90 + 70 * j, far = std::hypot(x - 500, y - 220) / 70;
            text << x / unit << parting << y / unit << parting
                 << (11 + 0.001 * (x - 400) - 1.5 * std::exp(-far * far)) / unit << "\n";
        }
    return text.str();
}

void expect_lines_that_fit(const std::string& text) {
    std::istringstream lines(text);
    int n = 0;
    for (std::string line; std::getline(lines, line); ++n) CHECK(line.size() <= 100);
    CHECK(n < 60);
}

} // namespace

TEST_CASE("survey checks a top as drawn, as routed and at the low bound", "[command_line][slow]") {
    const Folder folder;
    const std::string file = folder.put("tray.json", tray("12")), csv = folder.put("skin.csv", readings()),
                      json = folder.path() + "/out.json", page = folder.path() + "/out.html";
    const Ran ran = run({"survey", file, csv, "--mesh", "coarse", "--gauge", "0.05mm", "--json", json});
    CHECK(ran.err.empty());
    CHECK((ran.status == 0 || ran.status == 1));
    expect_lines_that_fit(ran.out);
    CHECK_THAT(ran.out, Contains("as drawn") && Contains("as routed") && Contains("low bound") &&
                            Contains("Thin places") && Contains("leave it as it is") &&
                            Contains("level all the floor down to") && Contains("gauge next") &&
                            Contains("A gauge that is off"));
    const auto answer = nlohmann::json::parse(content_of(json));
    CHECK((answer["verdict"] == "passes") == (ran.status == 0));
    CHECK(answer["readings"]["used"] == 24);
    const auto sag = [&](const char* which) { return answer["checked"][which]["sag_mm"].get<double>(); };
    CHECK(sag("drawn") < sag("routed"));
    CHECK(sag("routed") < sag("low"));
    CHECK_THAT(answer["thin_places"][0]["at_mm"][0].get<double>(), WithinAbs(500, 60));
    CHECK_THAT(answer["thin_places"][0]["at_mm"][1].get<double>(), WithinAbs(220, 50));
    CHECK(answer["mends"][0]["kind"] == "leave");
    // what is drawn is what check says of it
    const auto drawn = nlohmann::json::parse(run({"check", file, "--mesh", "coarse", "--json", "-"}).out);
    CHECK_THAT(answer["checked"]["drawn"]["governing"]["utilisation"].get<double>(),
               WithinRel(drawn["governing"]["utilisation"].get<double>(), 1e-9));
    // levelling is a plain top of that skin: check says the same of one that is drawn so
    for (const auto& mend : answer["mends"])
        if (mend["kind"] == "level") {
            const auto level = nlohmann::json::parse(
                run({"check",
                     folder.put("level.json", tray(std::to_string(24 - mend["skin_mm"].get<double>()))),
                     "--mesh", "coarse", "--json", "-"})
                    .out);
            CHECK_THAT(mend["routed"]["governing"]["utilisation"].get<double>(),
                       WithinRel(level["governing"]["utilisation"].get<double>(), 1e-6));
        }
    const Ran shown = run({"survey", file, csv, "--mesh", "coarse", "--out", page});
    CHECK(shown.out.empty());
    CHECK_THAT(content_of(page), Contains("<svg") && Contains("Under the drawing") &&
                                     Contains("gauge here next") && Contains("Cautions"));
    // maps and plan lie as the top does on the bench, or a patch is glued where the mirror says
    CHECK_THAT(content_of(page), Contains("Plan from below") && !Contains("from above"));
}

TEST_CASE("an even floor at the drawn depth is checked as drawn", "[command_line][slow]") {
    const Folder folder;
    std::string even = "x,y,thickness\n";
    for (int i = 0; i < 6; ++i)
        for (int j = 0; j < 4; ++j)
            even += std::to_string(100 + 120 * i) + "," + std::to_string(90 + 70 * j) + ",12\n";
    const Ran ran = run({"survey", folder.put("tray.json", tray("12")), folder.put("even.csv", even),
                         "--mesh", "coarse", "--json", "-", "--gauge", "0.01mm"});
    const auto answer = nlohmann::json::parse(ran.out);
    CHECK(answer["thin_places"].empty());
    CHECK_THAT(answer["checked"]["routed"]["sag_mm"].get<double>(),
               WithinRel(answer["checked"]["drawn"]["sag_mm"].get<double>(), 1e-4));
    CHECK(answer["mends"].size() == 1);
}

TEST_CASE("survey prints the places to gauge without any readings", "[command_line]") {
    const Folder folder;
    const Ran ran = run({"survey", "--sheet", folder.put("tray.json", tray("12"))});
    CHECK(ran.status == 0);
    CHECK(ran.err.empty());
    expect_lines_that_fit(ran.out);
    CHECK_THAT(ran.out, Contains("400, 200") && Contains("rim 1") && Contains("skin drawn 12.0 mm"));
}

TEST_CASE("survey answers readings that cannot be with what would be right", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("tray.json", tray("12"));
    const auto refused = [&](const std::vector<std::string>& more) {
        std::vector<std::string> words{"survey", file};
        words.insert(words.end(), more.begin(), more.end());
        const Ran ran = run(words);
        CHECK(ran.status == 2);
        CHECK(ran.out.empty());
        return ran.err;
    };
    CHECK_THAT(refused({}), Contains("no file of readings is given"));
    CHECK_THAT(refused({folder.put("cm.csv", readings(10))}),
               Contains("cm.csv: readings: ") && Contains("centimetres; give --readings-units cm"));
    CHECK_THAT(refused({folder.put("bad.csv", "x,y,thickness\n100,100,thin\n")}),
               Contains("bad.csv: line 2: \"thin\" is no length"));
    CHECK_THAT(refused({folder.path() + "/none.csv"}), Contains("none.csv"));
    CHECK_THAT(refused({folder.put("a.csv", readings()), "--gauge", "much"}),
               Contains("--gauge: \"much\" is no length"));
    CHECK_THAT(refused({folder.put("b.csv", readings()), "--out", folder.path() + "/b.csv"}),
               Contains("name another file"));
    const std::string solid =
        R"({"hollowtop": 1, "top": {"length": 800, "width": 400, "thickness": 24, "wood": "black cherry"}, "supports": [{"kind": "bearer", "from": [100, 10], "to": [100, 390], "width": 40}, {"kind": "bearer", "from": [700, 10], "to": [700, 390], "width": 40}]})";
    const Ran none = run({"survey", folder.put("solid.json", solid), folder.put("c.csv", readings())});
    CHECK(none.status == 2);
    CHECK_THAT(none.err, Contains("there is no skin to survey"));
}
