// SPDX-License-Identifier: MIT
// Sentences of the solver, said in inches and pounds. Expected values by hand: 1 in = 25.4 mm, 1 lb =
// 0.45359237 kg, 1 lbf = 4.4482216 N, 1 psi = 0.0068947573 MPa, 1 psf = 0.047880259 kPa.
#include "cli/words/told.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace hollowtop;
using namespace hollowtop::cli;

namespace {

std::string in_inches(const std::string& sentence, const std::vector<std::string>& names = {}) {
    return told(sentence, Units::inch, names);
}

} // namespace

TEST_CASE("lengths in a sentence become sixteenths with the decimal beside them", "[cli]") {
    CHECK(in_inches("span of 1270 mm / 300 (limits.sag)") == "span of 50 in / 300 (limits.sag)");
    CHECK(in_inches("span of 1720 mm / 300") == "span of 67-11/16 in (67.72) / 300");
    CHECK(in_inches("give 0 mm or more") == "give 0 in or more");
    CHECK(in_inches("a skin of 20 mm, no less") == "a skin of 13/16 in (0.79), no less");
    CHECK(in_inches("5 mm clear of the show face") == "3/16 in (0.197) clear of the show face");
    CHECK(in_inches("12mm") == "1/2 in (0.47)");
    CHECK(in_inches("it rises by -3 mm") == "it rises by -1/8 in (-0.118)");
}

TEST_CASE("what is under a sixteenth of an inch, or stands at a bracket, is a decimal alone", "[cli]") {
    CHECK(in_inches("limits.dish (the default of 0.6 mm is a proposal)") ==
          "limits.dish (the default of 0.024 in is a proposal)");
    CHECK(in_inches("gives way by 0.1 mm under the paper") == "gives way by 0.0039 in under the paper");
    CHECK(in_inches("plus 1 mm.") == "plus 0.039 in.");
    CHECK(in_inches("thinner than 12 mm (common practice)") == "thinner than 0.47 in (common practice)");
    CHECK(in_inches("(leave 12 mm)") == "(leave 0.47 in)");
    CHECK(in_inches("(leave 25.4 mm) or 20 mm") == "(leave 1 in) or 13/16 in (0.79)");
}

TEST_CASE("numbers that share a unit turn together", "[cli]") {
    CHECK(in_inches("5 to 12 mm") == "3/16 to 1/2 in (0.197 to 0.47)");
    CHECK(in_inches("120 mm by 80 mm") == "4-3/4 in (4.72) by 3-1/8 in (3.15)");
    CHECK(in_inches("outside the 1900 x 850 mm of the top") ==
          "outside the 74-13/16 x 33-7/16 in (74.80 x 33.46) of the top");
    CHECK(in_inches("from 600 to 800 N") == "from 135 to 180 lbf");
    CHECK(in_inches("0.9 x 100 MPa") == "0.9 x 14500 psi"); // a product, not two stresses
}

TEST_CASE("places become sixteenths alone, with their unit or without", "[cli]") {
    CHECK(in_inches("at (950, 60) mm") == "at (37-3/8, 2-3/8) in");
    CHECK(in_inches("books, at x 950, y 60 mm") == "books, at x 37-3/8, y 2-3/8 in");
    CHECK(in_inches("about the line from x 127 mm, y 60 mm to x 254 mm, y 60 mm") ==
          "about the line from x 5 in, y 2-3/8 in to x 10 in, y 2-3/8 in");
    CHECK(in_inches("x 254, y -12.7 lies outside the outline") == "x 10, y -1/2 lies outside the outline");
}

TEST_CASE("volumes turn into cubic inches", "[cli]") {
    CHECK(in_inches("of 81 cm3 under even tension") == "of 4.94 in3 under even tension"); // 81 / 16.387
    CHECK(in_inches("for the 1640 cm3 that are held back") == "for the 100 in3 that are held back");
}

TEST_CASE("forces, masses, pressures, stresses and temperatures turn as elsewhere in the text", "[cli]") {
    CHECK(in_inches("50 N on a square of 25.4 mm") == "11 lbf on a square of 1 in");
    CHECK(in_inches("a user of 110 kg") == "a user of 242.5 lb");
    CHECK(in_inches("at least 0.5 kPa") == "at least 10.4 psf");
    CHECK(in_inches("yield 235 MPa of S235") == "yield 34080 psi of S235");
    CHECK(in_inches("air of 20 C and 30 %") == "air of 68 F and 30 %");
}

TEST_CASE("sections, formulas, compound units and sources are left alone", "[cli]") {
    for (const char* sentence :
         {"angle 30x30x3", "pulled out by 25 d l N/mm (from memory)", "0.437 N/mm", "E 11000 MPa/mm",
          "density 549 kg/m3", "2260 N/m", "12 mm2", "Table 5-3a, 12 %", "EN 1995-1-1 8.7.2(4)",
          "a hole 3 in the row", "stiffeners[12]: mm", "", "mm", "-", "d^-0.5 mm", "1 300 N a seat",
          "S235 (t <= 16)", "at 25 Male screws"}) {
        CAPTURE(sentence);
        CHECK(in_inches(sentence) == sentence);
    }
}

TEST_CASE("names stay as they were given", "[cli]") {
    CHECK(in_inches("under \"glass 10 mm\" the skin of 25.4 mm dishes") ==
          "under \"glass 10 mm\" the skin of 1 in dishes");
    CHECK(in_inches("glass 10 mm: the skin of 25.4 mm dishes", {"glass 10 mm"}) ==
          "glass 10 mm: the skin of 1 in dishes");
    CHECK(in_inches("in \"glass 10 mm, at x 950, y 60 mm\" it tips", {"glass 10 mm"}) ==
          "in \"glass 10 mm, at x 37-3/8, y 2-3/8 in\" it tips");
    CHECK(in_inches("glass 10 mm, at x 950, y 60 mm", {"glass 10 mm"}) ==
          "glass 10 mm, at x 37-3/8, y 2-3/8 in");
    CHECK(in_inches(R"(write a text like "42 mm" or "1-5/8 in")") ==
          R"(write a text like "42 mm" or "1-5/8 in")");
    CHECK(in_inches("a screw of 1-5/8\" and 12 mm") ==
          "a screw of 1-5/8\" and 1/2 in (0.47)"); // no quotation
    Piece piece;
    piece.loads = {Load{.name = "10 mm", .kind = AreaLoad{}}, Load{.name = "glass 10 mm", .kind = AreaLoad{}},
                   Load{.name = "books", .kind = AreaLoad{}}};
    CHECK(names_like_amounts(piece) == std::vector<std::string>{"glass 10 mm", "10 mm"});
}

TEST_CASE("in millimetres only a place in inches is turned", "[cli]") {
    CHECK(told("books, at x 37.4, y 2.36 in", Units::mm) == "books, at x 950, y 60 mm");
    CHECK(told("span of 1270 mm / 300, at x 950, y 60 mm, 25 N", Units::mm) ==
          "span of 1270 mm / 300, at x 950, y 60 mm, 25 N");
    CHECK(told("x 254, y 12.7 lies outside", Units::mm) == "x 254, y 12.7 lies outside");
    CHECK(told("books, at x 37.4, y 2.36 in", Units::inch) == "books, at x 37.4, y 2.36 in");
}

TEST_CASE("a result is told in one unit, and its situations are still found by their names", "[cli]") {
    Result result;
    result.governing_situation = "books, at x 950, y 60 mm";
    result.situations.resize(1);
    result.situations[0].name = result.governing_situation;
    result.checks.resize(1);
    result.checks[0].situation = result.governing_situation;
    result.checks[0].basis = "half the skin of 20 mm: more";
    result.warnings = {"the skin dishes by 50.8 mm"};
    const Result said = told(result, Units::inch);
    CHECK(said.governing_situation == "books, at x 37-3/8, y 2-3/8 in");
    CHECK(said.situations[0].name == said.governing_situation);
    CHECK(said.checks[0].situation == said.governing_situation);
    CHECK(said.checks[0].basis == "half the skin of 13/16 in (0.79): more");
    CHECK(said.warnings[0] == "the skin dishes by 2 in");
    CHECK(told(result, Units::mm).checks[0].basis == result.checks[0].basis);
}

TEST_CASE("a fault is told in one unit, its place in the file as it is", "[cli]") {
    Error error(ErrorKind::input,
                Fault{"recesses[1].depth", "254 mm is not below the thickness", "give less than 25.4 mm"});
    error.file = "desk.json";
    const Error said = told(error, Units::inch);
    CHECK(said.kind() == ErrorKind::input);
    CHECK(said.file == "desk.json");
    CHECK(said.faults().front() ==
          Fault{"recesses[1].depth", "10 in is not below the thickness", "give less than 1 in"});
}
