// SPDX-License-Identifier: MIT
// `hollowtop seasons` as it is typed: text, JSON against its schema, CSV, card, refusals.
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <sstream>
#include <string>
#include <vector>

namespace {

/// A hollowed cherry top; `finish` and `boards` as the piece file says them.
std::string piece_with(const std::string& finish, const std::string& boards = "5",
                       const std::string& move_in = "november") {
    return R"json({"hollowtop": 1, "title": "Bench (invented)", "units": "mm",
      "top": {"length": 1400, "width": 600, "thickness": 36, "wood": "black cherry", "moisture": 9, "finish": )json" +
           finish + R"json(, "boards": )json" + boards + R"json(},
      "recesses": [{"name": "well", "rim": 120, "depth": 20}],
      "supports": [{"kind": "pad", "at": [100, 300], "size": [40, 300]},
                   {"kind": "pad", "at": [1300, 300], "size": [40, 300]}],
      "loads": [{"name": "books", "kind": "area", "pressure": "0.3 kPa"}],
      "climate": {"low": {"temperature": "20 C", "humidity": 30}, "high": {"temperature": "20 C", "humidity": 60},
                  "shop": {"temperature": "18 C", "humidity": 55}, "move_in": ")json" +
           move_in + R"json("}})json";
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

} // namespace

TEST_CASE("seasons says in forty lines how a top goes through its first year", "[command_line][slow]") {
    const Folder folder;
    const std::string file = folder.put("piece.json", piece_with(R"("oil")"));
    const std::string json = folder.path() + "/year.json", csv = folder.path() + "/year.csv",
                      card = folder.path() + "/card.txt";
    const Ran ran = run({"seasons", file, "--json", json, "--csv", csv, "--card", card});
    CHECK(ran.status == 0);
    CHECK(ran.err.empty());
    const std::vector<std::string> text = lines_of(ran.out);
    CHECK(text.size() <= 40);
    for (const std::string& line : text) CHECK(line.size() <= 100);
    for (const char* word :
         {"Advice, no verdict", "thin oil all over", "January", "factor of two", "rings not said"}) {
        CAPTURE(word);
        CHECK(ran.out.find(word) != std::string::npos);
    }
    const auto year = nlohmann::json::parse(content_of(json));
    CHECK(year["months"].size() == 12);
    CHECK(year["first_year"]["lead"]["points"].get<double>() > 0.3);
    CHECK(year["first_year"]["rise_across"]["mm"].get<double>() < 0); // the skin dries first: hollow
    const std::vector<std::string> rows = lines_of(content_of(csv));
    REQUIRE(rows.size() == 13);
    CHECK(rows[1].rfind("november,", 0) == 0);
    for (const std::string& row : rows) CHECK(std::count(row.begin(), row.end(), ',') == 8);
    CHECK(content_of(card).find("Where not to stand it") != std::string::npos);
    const std::string python = "/usr/bin/python3";
    if (run_other({python, "-c", "import jsonschema; jsonschema.Draft202012Validator"}).status != 0) {
        WARN("NOT CHECKED: the schema needs Debian's python3-jsonschema");
        return;
    }
    const std::string rings =
        R"([{"width": 200, "pith": 60, "bark": "down"}, {"width": 200, "pith": 50, "bark": "down"},
                                  {"width": 200, "pith": 60, "bark": "down"}])";
    const std::string known = folder.put("known.json", piece_with(R"({"top": "film"})", rings, "may"));
    const std::string of_known = folder.path() + "/known_year.json";
    const Ran inches = run({"seasons", known, "--units", "in", "--full", "--json", of_known});
    CHECK(inches.status == 0);
    CHECK(inches.out.find(" mm") == std::string::npos);
    const auto rings_told = nlohmann::json::parse(content_of(of_known))["boards"];
    CHECK(rings_told["known"] == true);
    // all pith side up as laid; turning the middle one leaves the panel as alternating does, by symmetry
    CHECK(rings_told["wave_pith_up_mm"] ==
          std::max(rings_told["dry"]["wave_mm"].get<double>(), rings_told["damp"]["wave_mm"].get<double>()));
    CHECK(inches.out.find("flattest with board 2 turned over") != std::string::npos);
    for (const auto& [schema, files] : {std::pair{"docs/seasons.schema.json", std::vector{json, of_known}},
                                        std::pair{"docs/piece.schema.json", std::vector{file, known}}}) {
        std::vector<std::string> command{python, of_the_project("tests/command_line/check_schema.py"),
                                         of_the_project(schema)};
        command.insert(command.end(), files.begin(), files.end());
        const Ran checked = run_other(command);
        CHECK(checked.out == "");
        CHECK(checked.err == "");
        CHECK(checked.status == 0);
    }
}

TEST_CASE("a bar that is fast to the wood across the grain is warned of before anything else",
          "[command_line][slow]") {
    const Folder folder;
    std::string piece = piece_with(R"("oil")");
    const std::string supports = R"("supports")";
    piece.insert(
        piece.find(supports),
        R"("stiffeners": [{"name": "batten", "section": "flat 40x5", "metal": "S235", "from": [60, 40],
                     "to": [60, 560], "screws": {"diameter": 5, "length": 26, "spacing": 160, "holes": "round"}}], )");
    const Ran tight = run({"seasons", folder.put("tight.json", piece)});
    CHECK(tight.status == 0);
    CHECK(tight.out.find("- batten is fast to the wood across the grain") != std::string::npos);
    CHECK(tight.out.find("all they bear") != std::string::npos);
    CHECK(tight.out.find("without bars") != std::string::npos);
    CHECK(lines_of(tight.out).size() <= 40);
    piece.replace(piece.find("round"), 5, "slotted");
    CHECK(run({"seasons", folder.put("slotted.json", piece)}).out.find("fast to the wood") ==
          std::string::npos);
}

TEST_CASE("keys of finish, rings and months that are wrong are named with what would be right",
          "[command_line]") {
    const Folder folder;
    const auto said_of = [&](const std::string& piece) {
        const Ran ran = run({"seasons", folder.put("piece.json", piece)});
        CHECK(ran.status == 2);
        return ran.err.substr(std::min(ran.err.size(), ran.err.find(": ") + 2));
    };
    CHECK(said_of(piece_with(R"("wax")")) ==
          "top.finish: \"wax\" is no finish that is known here; write one of \"bare\", \"oil\", \"film\"\n");
    CHECK(said_of(piece_with(R"("oil")", R"([{"width": 600, "pith": 60}])")) ==
          "top.boards[0].bark: this key is missing beside its fellow; give both: \"pith\", its distance from "
          "the nearer "
          "face, and \"bark\", \"up\" or \"down\"\n");
    CHECK(said_of(piece_with(R"("oil")", "5", "novembre")).find("climate.move_in") == 0);
    std::string months = piece_with(R"("oil")");
    const std::string low =
        R"("low": {"temperature": "20 C", "humidity": 30}, "high": {"temperature": "20 C", "humidity": 60})";
    months.replace(months.find(low), low.size(), R"("months": [{"temperature": "20 C", "humidity": 30}])");
    CHECK(said_of(months) ==
          "climate.months: a year has twelve months, and these are 1; give the air of each, from "
          "January on\n");
    const std::string file = folder.put("piece.json", piece_with(R"("oil")"));
    CHECK(run({"seasons", file, "--csv", "-"}).err ==
          "hollowtop: --csv: is not written to standard output; name a file\n");
}

TEST_CASE("movement tells the year by the month where asked, as seasons does", "[command_line][slow]") {
    const Folder folder;
    const std::string file = folder.put("piece.json", piece_with(R"("oil")")),
                      json = folder.path() + "/movement.json", csv = folder.path() + "/months.csv",
                      of_seasons = folder.path() + "/seasons.json";
    const Ran ran = run({"movement", file, "--year", "--csv", csv, "--json", json});
    CHECK(ran.status == 0);
    CHECK(ran.out.find("The first two years, lying free") != std::string::npos);
    CHECK(ran.out.find("October") != std::string::npos);
    CHECK(lines_of(content_of(csv)).size() == 13);
    REQUIRE(run({"seasons", file, "--quiet", "--sanding", "--json", of_seasons}).status == 0);
    const auto movement = nlohmann::json::parse(content_of(json)),
               seasons = nlohmann::json::parse(content_of(of_seasons));
    for (const char* key : {"first_year", "second_year", "months"})
        CHECK(movement["year"][key] == seasons[key]);
    REQUIRE(seasons["sanding"].size() == 3); // a thinner top is used more by the check that governs it
    CHECK(seasons["sanding"][0]["off_mm"] == 0.5);
    CHECK(seasons["sanding"][2]["utilisation"].get<double>() >
          seasons["sanding"][0]["utilisation"].get<double>());
    CHECK(run({"movement", file, "--csv", csv}).err ==
          "hollowtop: --csv: the months are of --year; give --year too\n");
    // oiled all round, the rim dries through its edges too: the skin leads it by less, at the grain's ends by least
    const double line = seasons["first_year"]["lead"]["points"].get<double>(),
                 sides = seasons["rim_edges"]["lead_at_sides_points"].get<double>(),
                 ends = seasons["rim_edges"]["lead_at_ends_points"].get<double>();
    CHECK(sides < line);
    CHECK(sides > 0.5 * line);
    CHECK(ends < sides);
    const std::string python = "/usr/bin/python3";
    if (run_other({python, "-c", "import jsonschema; jsonschema.Draft202012Validator"}).status != 0) {
        WARN("NOT CHECKED: the schema needs Debian's python3-jsonschema");
        return;
    }
    for (const auto& [schema, checked_file] :
         {std::pair{"docs/movement.schema.json", json}, std::pair{"docs/seasons.schema.json", of_seasons}}) {
        const Ran checked = run_other({python, of_the_project("tests/command_line/check_schema.py"),
                                       of_the_project(schema), checked_file});
        CHECK(checked.out == "");
        CHECK(checked.status == 0);
    }
}

TEST_CASE("compare follows each variant through its seasons where asked, and ranks nothing by them",
          "[command_line][slow]") {
    const Folder folder;
    const std::string boards =
        R"([{"width": 300, "pith": 50, "bark": "down"}, {"width": 300, "pith": 60, "bark": "down"}])";
    const std::string file = folder.put("piece.json", piece_with(R"("film")", boards)),
                      json = folder.path() + "/variants.jsonl", csv = folder.path() + "/variants.csv";
    const Ran ran = run({"compare", file, "--mesh", "coarse", "--seasons", "--vary", "finish=bare,film",
                         "--vary", "laid=pith up, alternating", "--json", json, "--csv", csv});
    CHECK(ran.status == 0);
    CHECK(ran.out.find("stands") != std::string::npos);
    CHECK(ran.out.find("it ranks nothing") != std::string::npos);
    std::vector<nlohmann::json> rows;
    for (const std::string& line : lines_of(content_of(json)))
        if (auto row = nlohmann::json::parse(line); row.contains("seasons")) rows.push_back(row);
    REQUIRE(rows.size() == 4);
    const auto of = [&](const char* finish, const char* laid, const char* key) {
        for (const auto& row : rows)
            if (row["choices"]["finish"] == finish && row["choices"]["laid"] == laid)
                return row["seasons"][key].get<double>();
        FAIL("no such variant");
        return 0.0;
    };
    // alternating halves the crown of near piths; the boards alone do not know of the finish
    CHECK(of("bare", "alternating", "boards_mm") < of("bare", "pith up", "boards_mm"));
    CHECK(of("bare", "pith up", "boards_mm") == of("film", "pith up", "boards_mm"));
    CHECK(of("bare", "pith up", "free_mm") != of("film", "pith up", "free_mm"));
    CHECK(of("bare", "pith up", "free_mm") == of("bare", "alternating", "free_mm"));
    // what was done is taken up whole
    const std::string before = content_of(csv);
    CHECK(run({"compare", file, "--mesh", "coarse", "--seasons", "--vary", "finish=bare,film", "--vary",
               "laid=pith up, alternating", "--csv", csv, "--resume"})
              .out == ran.out);
    CHECK(content_of(csv) == before);
}
