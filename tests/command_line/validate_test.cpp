// SPDX-License-Identifier: MIT
// `hollowtop validate` with cases that anyone wrote.
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <string>

namespace {

/// A strip of 100 x 20 mm on knife edges 800 mm apart, 1 kPa all over, from constants alone. As a beam: 5 q
/// L^4 / 384 E I + q L^2 / (8 k G A) with q = 0.1 N/mm, E = 10 000 MPa, I = 100 x 20^3 / 12 = 66 666.7 mm4, G
/// = 600 MPa, k = 5/6, A = 2000 mm2:
/// 0.8 + 0.008 = 0.808 mm (Timoshenko, Strength of Materials, Part I, 1955).
std::string case_with(const std::string& value, const std::string& what = "/situations/0/sag_mm") {
    return R"({"id": "strip", "title": "a strip as a beam", "source": "Timoshenko, Strength of Materials, Part I, 1955",
      "piece": {"hollowtop": 1, "self_weight": false,
        "top": {"length": 800, "width": 100, "thickness": 20,
                "elastic": {"E1": 10000, "E2": 10000, "nu12": 0, "G12": 5000, "G13": 600, "G23": 600}},
        "supports": [{"kind": "bearer", "from": [0, 0], "to": [0, 100], "width": 0},
                     {"kind": "bearer", "from": [800, 0], "to": [800, 100], "width": 0}],
        "loads": [{"kind": "area", "pressure": "1 kPa"}]},
      "expect": [{"what": ")" +
           what + R"(", "value": )" + value + R"(, "tolerance_percent": 0.5}]})";
}

} // namespace

TEST_CASE("a case of one's own is compared, line by line", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("strip.json", case_with("0.808"));
    const Ran ran = run({"validate", "--cases", file, "--json", folder.path() + "/out.json"});
    CHECK(ran.err.empty());
    CHECK(ran.status == 0);
    CHECK(ran.out.find("strip") != std::string::npos);
    CHECK(ran.out.find("  ok\n") != std::string::npos);
    CHECK(ran.out.find("1 values of 1 cases compared, all within their tolerances.") == std::string::npos);
    CHECK(ran.out.find("1 value of 1 case compared, all within their tolerances.") != std::string::npos);
    const auto compared = nlohmann::json::parse(content_of(folder.path() + "/out.json"));
    REQUIRE(compared.size() == 1);
    CHECK(compared[0]["ok"] == true);
    CHECK(compared[0]["published"] == 0.808);
}

TEST_CASE("a case outside its tolerance is a miss with its source, and status 1", "[command_line]") {
    const Folder folder;
    folder.put("near.json", case_with("0.808"));
    folder.put("off.json", case_with("0.9"));
    folder.put("nothing.json", case_with("1", "/situations/7/sag_mm"));
    folder.put("notes.txt", "no case");
    const Ran ran = run({"validate", "--cases", folder.path()});
    CHECK(ran.status == 1);
    CHECK(ran.out.find("3 values of 3 cases compared, 2 outside their tolerances.") != std::string::npos);
    CHECK(ran.out.find("Timoshenko") != std::string::npos);
    CHECK(run({"validate", "--quiet", "--cases", folder.path()}).out.empty());
}

TEST_CASE("a case that makes no sense is told with its place, and status 2", "[command_line]") {
    const Folder folder;
    const std::string unknown = folder.put("case.json", R"({"id": "x"})");
    const Ran no_piece = run({"validate", "--cases", unknown});
    CHECK(no_piece.status == 2);
    CHECK(no_piece.out.empty());
    CHECK(no_piece.err.substr(0, unknown.size() + 2) == unknown + ": ");

    std::string text = case_with("0.808");
    const auto at = text.find("\"thickness\"");
    text.replace(at, 11, "\"thicknes\"");
    const std::string slip = folder.put("slip.json", text);
    const Ran ran = run({"validate", "--cases", slip});
    CHECK(ran.status == 2);
    CHECK(ran.err.find("piece.top.thicknes: no such key; did you mean \"thickness\"?") != std::string::npos);

    const Ran none = run({"validate", "--cases", folder.path() + "/none"});
    CHECK(none.status == 2);
    CHECK(none.err == folder.path() + "/none: there is no such file; check the name and the folder\n");
}

TEST_CASE("the page of the cases tells each value, what kind it is and how it moves with the mesh",
          "[command_line]") {
    const Folder folder;
    folder.put("near.json", case_with("0.808"));
    folder.put("off.json", case_with("0.9"));
    const std::string page_file = folder.path() + "/page.html";
    const Ran ran = run({"validate", "--cases", folder.path() + "/near.json", "--cases",
                         folder.path() + "/off.json", "--out", page_file});
    CHECK(ran.status == 1);
    CHECK(ran.out.find("2 values of 2 cases compared, 1 outside") != std::string::npos);
    const std::string page = content_of(page_file);
    for (const char* part :
         {"<!DOCTYPE html>", "2 values of 2 cases, 1 outside their tolerances.", "of unsaid origin",
          "Timoshenko, Strength of Materials", "/situations/0/sag_mm", "0.808", "0.9", "outside",
          "Where the theory ends", "No published test of a hollowed tabletop is known",
          "<svg id=\"meshes-strip\"", "Not explained yet."}) {
        CAPTURE(part);
        CHECK(page.find(part) != std::string::npos);
    }
    CHECK(page.find("http") == std::string::npos); // it needs no network
    CHECK(page.find("<script") == std::string::npos);
    // three meshes: in the picture of the first case three dots of its one value
    const auto start = page.find("<svg id=\"meshes-strip\""), end = page.find("</svg>", start);
    std::size_t dots = 0;
    for (auto at = page.find("<circle", start); at < end; at = page.find("<circle", at + 1)) ++dots;
    CHECK(dots == 3);
}

TEST_CASE("the example of a loaded top is compared, and called invented", "[command_line]") {
    const Folder folder;
    const std::string page_file = folder.path() + "/page.html";
    const Ran ran = run({"validate", "--cases", of_the_project("validation/measured"), "--out", page_file});
    CHECK(ran.err.empty());
    CHECK(ran.status == 0);
    const std::string page = content_of(page_file);
    CHECK(page.find("with invented readings, which prove nothing") != std::string::npos);
    CHECK(page.find("INVENTED, an example of the form") != std::string::npos);
    CHECK(page.find(">INVENTED</span>") != std::string::npos);
    CHECK(page.find("No published test of a hollowed tabletop is known") != std::string::npos);
}
