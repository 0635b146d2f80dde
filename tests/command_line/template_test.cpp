// SPDX-License-Identifier: MIT
// The template's files, read back by another hand (read_template.py), and its refusals.
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cmath>
#include <filesystem>
#include <numbers>
#include <tuple>

namespace {

using Json = nlohmann::json;
using Catch::Matchers::WithinAbs;

constexpr double close_enough = 0.01; // mm: what the template is held to

Json drawings_of(const std::string& file, const Folder& folder, const std::vector<std::string>& more) {
    const std::string svg = folder.path() + "/t.svg", dxf = folder.path() + "/t.dxf";
    std::vector<std::string> words{"template", file, "--svg", svg, "--dxf", dxf, "--quiet"};
    words.insert(words.end(), more.begin(), more.end());
    const Ran ran = run(words);
    CHECK(ran.err == "");
    REQUIRE(ran.status == 0);
    const Ran read =
        run_other({"/usr/bin/python3", of_the_project("tests/command_line/read_template.py"), svg, dxf});
    CAPTURE(read.err);
    REQUIRE(read.status == 0);
    return Json::parse(read.out);
}

void expect_box(const Json& shape, const std::vector<double>& box) {
    CAPTURE(shape.dump());
    for (std::size_t i = 0; i < 4; ++i)
        CHECK_THAT(shape["box"][i].get<double>(), WithinAbs(box[i], close_enough));
}

std::string piece_of(const std::string& recesses) {
    return R"({"hollowtop": 1, "title": "Oak", "top": {"length": 900, "width": 400, "thickness": 25, "wood": "white oak"}, "recesses": [)" +
           recesses +
           R"(], "supports": [{"kind": "pad", "at": [30, 30], "size": [40, 40]}, {"kind": "pad", "at": [870, 30], "size": [40, 40]},
           {"kind": "pad", "at": [30, 370], "size": [40, 40]}], "loads": [{"name": "books", "kind": "area", "pressure": "0.5 kPa"}]})";
}

} // namespace

TEST_CASE("recess, template edge, holes and slots come out in SVG and DXF where they belong",
          "[command_line]") {
    const Folder folder;
    const Json read = drawings_of(of_the_project("docs/examples/bench_top.json"), folder,
                                  {"--cutter", "12mm", "--bush", "24mm"});
    for (const char* kind : {"svg", "dxf"}) {
        CAPTURE(kind);
        const Json& drawn = read[kind];
        expect_box(drawn["OUTLINE"][0], {0, 0, 1900, 850});
        // seen from below, y upwards: 850 - y; the edge lies (24 - 12) / 2 = 6 outside the wall
        expect_box(drawn["WALL"][0], {120, 110, 1780, 740});
        expect_box(drawn["OPENING"][0], {114, 104, 1786, 746});
        // corners of radius 10 and 16; chords on the reader's arcs lose under a thousandth
        CHECK_THAT(drawn["WALL"][0]["area"].get<double>(),
                   WithinAbs(1660.0 * 630 - (4 - std::numbers::pi) * 100, 1));
        CHECK_THAT(drawn["OPENING"][0]["area"].get<double>(),
                   WithinAbs(1672.0 * 642 - (4 - std::numbers::pi) * 256, 1));
        REQUIRE(drawn["PILOT"].size() == 22);
        REQUIRE(drawn["SLOT"].size() == 20); // the middle screw of each stiffener sits in a round hole
        const Json& first = drawn["PILOT"][0];
        CHECK_THAT(first["at"][0].get<double>(), WithinAbs(200, close_enough));
        CHECK_THAT(first["at"][1].get<double>(), WithinAbs(850 - 301.5, close_enough));
        // a slot of three screw diameters of 4, a millimetre wider than the screw, across the grain
        expect_box(drawn["SLOT"][0], {200 - 2.5, 850 - 301.5 - 6, 200 + 2.5, 850 - 301.5 + 6});
        const Json& bar = drawn["SCALE"][0];
        CHECK_THAT(std::abs(bar[2].get<double>() - bar[0].get<double>()), WithinAbs(100, close_enough));
    }
    const Json check = Json::parse(
        run({"check", of_the_project("docs/examples/bench_top.json"), "--mesh", "coarse", "--json", "-"})
            .out);
    REQUIRE(check["screws"].size() == 22);
    for (std::size_t i = 0; i < 22; ++i) { // the check counts on the same places
        CHECK_THAT(check["screws"][i]["at_mm"][0].get<double>(),
                   WithinAbs(read["dxf"]["PILOT"][i]["at"][0].get<double>(), close_enough));
        CHECK_THAT(850 - check["screws"][i]["at_mm"][1].get<double>(),
                   WithinAbs(read["dxf"]["PILOT"][i]["at"][1].get<double>(), close_enough));
    }
}

TEST_CASE("a land is an island that the template shrinks", "[command_line]") {
    const Folder folder;
    const Json read = drawings_of(of_the_project("docs/examples/desk.json"), folder,
                                  {"--cutter", "10mm", "--bush", "16mm"});
    for (const char* kind : {"svg", "dxf"}) {
        REQUIRE(read[kind]["OPENING"].size() == 2);
        REQUIRE(read[kind]["ISLAND"].size() == 1);
        expect_box(read[kind]["ISLAND"][0], {1103, 750 - 597, 1247, 750 - 483});
        expect_box(read[kind]["OPENING"][1], {857, 750 - 653, 1493, 750 - 97});
    }
}

TEST_CASE("the rim of an oval is followed", "[command_line]") {
    const Folder folder;
    const Json read =
        drawings_of(of_the_project("docs/examples/oval_table.json"), folder, {"--bush", "18mm"});
    for (const char* kind : {"svg", "dxf"}) {
        expect_box(read[kind]["OUTLINE"][0], {0, 0, 2100, 1100});
        // chords of the rim stray less than 0.02 mm
        for (const auto& [i, wanted] :
             {std::pair<std::size_t, double>{0, 127}, {1, 127}, {2, 1973}, {3, 973}})
            CHECK_THAT(read[kind]["OPENING"][0]["box"][i].get<double>(), WithinAbs(wanted, 0.03));
    }
}

TEST_CASE("every example has its template, the same each time", "[command_line]") {
    const Folder folder;
    for (const auto& entry : std::filesystem::directory_iterator(of_the_project("docs/examples"))) {
        if (entry.path().extension() != ".json") continue;
        CAPTURE(entry.path().string());
        std::string before;
        for (int k = 0; k < 2; ++k) {
            const Ran ran = run(
                {"template", entry.path().string(), "--cutter", "8mm", "--dxf", folder.path() + "/t.dxf"});
            CHECK(ran.err == "");
            CHECK(ran.status == 0);
            if (k == 1) CHECK(content_of(folder.path() + "/t.dxf") == before);
            before = content_of(folder.path() + "/t.dxf");
        }
    }
}

TEST_CASE("what a cutter cannot cut is refused with its place, and nothing is written", "[command_line]") {
    const Folder folder;
    struct Slip {
        std::string recesses;
        std::vector<std::string> setup;
        std::string said;
    };
    const std::vector<Slip> slips{
        {R"({"x": [100, 400], "y": [100, 300], "depth": 9})",
         {},
         "recesses[0].corner_radius: a cutter of 12 mm leaves a radius of 6 mm in the corner of \"recess 1\" "
         "at x 400, y 100, which asks for 0 mm; give a radius of at least 6.5 mm, or a smaller cutter\n"},
        {R"({"x": [100, 400], "y": [100, 300], "depth": 9, "corner_radius": 5})", {}, "which asks for 5 mm"},
        {R"({"name": "a", "x": [100, 400], "y": [100, 300], "depth": 9, "corner_radius": 10}, {"name": "b", "x": [410, 800], "y": [100, 300], "depth": 9, "corner_radius": 10})",
         {"--bush", "24mm"},
         "recesses[1]: the openings for \"a\" and \"b\" run into one another; leave more than 12 mm between "
         "the recesses, or take a bush nearer to the cutter's size\n"},
        {R"({"name": "a", "x": [100, 400], "y": [100, 300], "depth": 9, "corner_radius": 10, "lands": [{"name": "l", "x": [105, 200], "y": [150, 200]}]})",
         {},
         "recesses[0].lands[0]: the gap between the land \"l\" and the wall is narrower than the cutter, 12 "
         "mm; take a smaller cutter or move the land\n"},
        {R"({"name": "a", "x": [100, 400], "y": [100, 300], "depth": 9, "corner_radius": 10, "lands": [{"name": "l", "x": [200, 210], "y": [150, 200]}]})",
         {"--bush", "40mm"},
         "recesses[0].lands[0]: the template's edge for \"l\" closes: its offset is 14 mm; take a bush "
         "nearer to the cutter's size\n"},
        {R"({"x": [100, 400], "y": [100, 300], "depth": 9, "corner_radius": 10})",
         {"--bush", "10mm"},
         "--bush: a guide bush of 10 mm does not let a cutter of 12 mm through; give the bush's outer "
         "diameter, greater than the cutter's\n"},
        {R"({"x": [100, 400], "y": [100, 300], "depth": 9, "corner_radius": 10})",
         {"--cutter", "0"},
         "--cutter: \"0\" is no diameter"},
    };
    for (const Slip& slip : slips) {
        CAPTURE(slip.said);
        const std::string out = folder.path() + "/out.dxf";
        std::vector<std::string> words{"template", folder.put("piece.json", piece_of(slip.recesses)), "--dxf",
                                       out};
        words.insert(words.end(), slip.setup.begin(), slip.setup.end());
        const Ran ran = run(words);
        CHECK(ran.status == 2);
        CHECK(ran.err.find(slip.said) != std::string::npos);
        CHECK(ran.out == "");
        CHECK_FALSE(std::filesystem::exists(out));
    }
}

namespace {

Json sheets_of(const std::string& what, const std::string& file) {
    const Ran read =
        run_other({"/usr/bin/python3", of_the_project("tests/command_line/read_sheets.py"), what, file});
    CAPTURE(read.err);
    REQUIRE(read.status == 0);
    return Json::parse(read.out);
}

const std::string one_recess =
    R"({"name": "well", "x": [100, 800], "y": [80, 320], "depth": 9, "corner_radius": 10})";

} // namespace

TEST_CASE("the sheets of a template, laid cross upon cross, are the drawing again", "[command_line]") {
    const Folder folder;
    const std::string piece = folder.put("piece.json", piece_of(one_recess)),
                      page = folder.path() + "/t.html";
    for (const auto& [paper, width, height] : {std::tuple{"a4", 210.0, 297.0}, {"letter", 215.9, 279.4}}) {
        CAPTURE(paper);
        const Ran ran =
            run({"template", piece, "--bush", "24mm", "--tiles", paper, "--out", page, "--quiet"});
        CHECK(ran.err == "");
        REQUIRE(ran.status == 0);
        const Json read = sheets_of("tiles", page);
        CHECK(read["placed"] == read["sheets"]);
        CHECK(read["sheets"].get<int>() > 4);
        CHECK(read["furthest_mm"].get<double>() < close_enough);
        // what is cut up: the whole top
        CHECK(read["covers"][0].get<double>() <= 0);
        CHECK(read["covers"][1].get<double>() <= 0);
        CHECK(read["covers"][2].get<double>() >= 900);
        CHECK(read["covers"][3].get<double>() >= 400);
        CHECK(read["bars"] == Json::array({100.0}));
        CHECK(read["bars_of_each"] == Json::array({2})); // both ways on every sheet
        const double w = read["paper"][0], h = read["paper"][1];
        CHECK(std::min(w, h) == width);
        CHECK(std::max(w, h) == height);
        const Ran corners = run({"template", piece, "--tiles", paper, "--corners", "--out", page, "--quiet"});
        REQUIRE(corners.status == 0);
        CHECK(sheets_of("tiles", page)["sheets"].get<int>() < read["sheets"].get<int>());
    }
    CHECK(run({"template", piece, "--corners"}).err.find("--corners: there are no sheets to choose from") !=
          std::string::npos);
    CHECK(run({"template", piece, "--tiles", "a5"}).status == 2);
}

TEST_CASE("the depth map tells each place's depth in thousandths of a millimetre", "[command_line]") {
    const Folder folder;
    const std::string file = folder.path() + "/d.png";
    const Ran ran =
        run({"template", folder.put("piece.json", piece_of(one_recess)), "--depth", file, "--quiet"});
    CHECK(ran.err == "");
    REQUIRE(ran.status == 0);
    const Json read = sheets_of("depth", file);
    CHECK(read["width"] == 1800);
    CHECK(read["height"] == 800);
    CHECK(read["bits"] == 16);
    CHECK(read["pixels_per_metre"] == 2000);
    CHECK(read["comment"].get<std::string>().find("1000 levels a mm") == 0);
    REQUIRE(read["values"].size() == 2); // the underside and the floor, 9 mm down
    // 700 x 240 mm with corners of radius 10, four pixels a square millimetre; the rim of a pixel's width apart
    const double area = 700.0 * 240 - (4 - std::numbers::pi) * 100, edge = 2 * (700 + 240);
    CHECK_THAT(read["values"][std::to_string(65535 - 9000)].get<double>(), WithinAbs(4 * area, edge));
    CHECK(std::filesystem::file_size(file) < 100'000);
}

TEST_CASE("in the depth map the floor meets the walls in the root radius", "[command_line]") {
    const Folder folder;
    std::string recess = one_recess;
    const std::string depth = "\"depth\": 9";
    recess.replace(recess.find(depth), depth.size(), depth + ", \"root_radius\": 4");
    const std::string file = folder.path() + "/d.png";
    const Ran ran = run({"template", folder.put("piece.json", piece_of(recess)), "--depth", file, "--quiet"});
    CHECK(ran.err == "");
    REQUIRE(ran.status == 0);
    const Json read = sheets_of("depth", file);
    double removed = 0; // mm3
    for (const auto& [grey, count] : read["values"].items())
        removed += (65535 - std::stod(grey)) / 1000 * count.get<double>() / 4;
    // square less quarter circle along every wall; round a corner of radius R at the distance R - d from its centre
    const double r = 4, R = 10, quarter = std::numbers::pi / 4,
                 area = 700.0 * 240 - (4 - std::numbers::pi) * R * R;
    const double straight = 2 * (700 + 240 - 4 * R), turn = 2 * std::numbers::pi;
    const double kept =
        (1 - quarter) * r * r * (straight + turn * R) - turn * r * r * r * (1 - quarter - 1.0 / 6);
    CHECK_THAT(removed, WithinAbs(9 * area - kept, 0.03 * kept)); // pixels of half a millimetre
    CHECK(read["values"].size() > 8);
}

TEST_CASE("every screw has its hole or slot in the parts, and stiffeners and pads are outlined",
          "[command_line]") {
    const Folder folder;
    const Json read = drawings_of(of_the_project("docs/examples/bench_top.json"), folder, {});
    for (const char* kind : {"svg", "dxf"}) {
        CAPTURE(kind);
        CHECK(read[kind]["STIFFENER"].size() == 2);
        CHECK(read[kind]["SLOT"].size() + read[kind]["HOLE"].size() == read[kind]["PILOT"].size());
    }
    const std::string parts = folder.path() + "/parts.dxf";
    REQUIRE(run({"template", of_the_project("docs/examples/bench_top.json"), "--parts", parts, "--quiet"})
                .status == 0);
    const std::string text = content_of(parts);
    const auto count = [&](const std::string& entity) {
        std::size_t n = 0;
        for (auto at = text.find(entity); at != std::string::npos; at = text.find(entity, at + 1)) ++n;
        return n;
    };
    CHECK(count("0\nPOLYLINE\n8\nPART\n") == 2);
    CHECK(count("0\nPOLYLINE\n8\nSLOT\n") == 20);
    CHECK(count("0\nCIRCLE\n8\nHOLE\n") == 2);  // the one of each that stays where it is
    CHECK(count("9\n$INSUNITS\n70\n4\n") == 1); // millimetres
    CHECK(run({"template", folder.put("piece.json", piece_of(one_recess)), "--parts", parts}).status == 2);
}

TEST_CASE("a name in any script stays whole in the DXF", "[command_line]") {
    const Folder folder;
    std::string text = piece_of(one_recess);
    text.replace(text.find("\"Oak\""), 5, "\"Schöner Tisch שולחן\"");
    const std::string dxf = folder.path() + "/t.dxf";
    REQUIRE(run({"template", folder.put("named.json", text), "--dxf", dxf, "--quiet"}).status == 0);
    CHECK(content_of(dxf).find("Schoener Tisch \\U+05E9\\U+05D5\\U+05DC\\U+05D7\\U+05DF") !=
          std::string::npos);
}
