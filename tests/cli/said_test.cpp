// SPDX-License-Identifier: MIT
// Messages in inches and pounds. Expected values by hand: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, 1 lbf =
// 4.4482216 N, 1 psi = 0.0068947573 MPa, 1 psf = 0.047880259 kPa, 1 in3 = 16.387064 cm3.
#include "cli/words/said.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace hollowtop;
using namespace hollowtop::cli;

namespace {

std::string inches(const Message& message) { return in_words(message, Units::inch); }
Amounts mm(double length) { return amount(length, Unit::mm); }

} // namespace

TEST_CASE("lengths in a sentence become sixteenths with the decimal beside them", "[cli]") {
    CHECK(inches(said("span of {} / 300 (limits.sag)", mm(1270))) == "span of 50 in / 300 (limits.sag)");
    CHECK(inches(said("span of {} / 300", mm(1720))) == "span of 67-11/16 in (67.72) / 300");
    CHECK(inches(said("give {} or more", mm(0))) == "give 0 in or more");
    CHECK(inches(said("a skin of {}, no less", mm(20))) == "a skin of 13/16 in (0.79), no less");
    CHECK(inches(said("{} clear of the show face", mm(5))) == "3/16 in (0.197) clear of the show face");
    CHECK(inches(mm(12)) == "1/2 in (0.47)");
    CHECK(inches(said("it rises by {}", mm(-3))) == "it rises by -1/8 in (-0.118)");
}

TEST_CASE("the true value is turned, not the digits shown in our own units", "[cli]") {
    // 1333.5 mm is 52-1/2 in; its three digits, 1334 mm, would be 52.52
    CHECK(in_own_units(mm(1333.5)) == "1334 mm");
    CHECK(inches(mm(1333.5)) == "52-1/2 in");
    CHECK(inches(amount(1e-9, Unit::mm, decimals(3))) == "0 in"); // shown as nothing, said as nothing
}

TEST_CASE("what is under a sixteenth of an inch, or stands at a bracket, is a decimal alone", "[cli]") {
    CHECK(inches(said("limits.dish (the default of {} is a proposal)", mm(0.6))) ==
          "limits.dish (the default of 0.024 in is a proposal)");
    CHECK(inches(said("gives way by {} under the paper", mm(0.1))) ==
          "gives way by 0.0039 in under the paper");
    CHECK(inches(said("plus {}.", mm(1))) == "plus 0.039 in.");
    CHECK(inches(said("thinner than {} (common practice)", mm(12))) ==
          "thinner than 0.47 in (common practice)");
    CHECK(inches(said("(leave {})", mm(12))) == "(leave 0.47 in)");
    CHECK(inches(said("(leave {}) or {}", mm(25.4), mm(20))) == "(leave 1 in) or 13/16 in (0.79)");
}

TEST_CASE("amounts that share a unit turn together", "[cli]") {
    CHECK(inches(amounts({5, 12}, " to ", Unit::mm)) == "3/16 to 1/2 in (0.197 to 0.47)");
    CHECK(inches(said("outside the {} of the top", amounts({1900, 850}, " x ", Unit::mm))) ==
          "outside the 74-13/16 x 33-7/16 in (74.80 x 33.46) of the top");
    CHECK(inches(said("from {}", amounts({600, 800}, " to ", Unit::N))) == "from 135 to 180 lbf");
}

TEST_CASE("places become sixteenths alone, with their unit or without", "[cli]") {
    CHECK(inches(said("books, at {}", place(950, 60, decimals(0)))) == "books, at x 37-3/8, y 2-3/8 in");
    CHECK(inches(said("{} lies outside the outline", bare_place(254, -12.7, decimals(3)))) ==
          "x 10, y -1/2 lies outside the outline");
    CHECK(inches(said("in \"{}, at {}\" it tips", "glass 10 mm", place(950, 60, decimals(0)))) ==
          "in \"glass 10 mm, at x 37-3/8, y 2-3/8 in\" it tips");
}

TEST_CASE("volumes, forces, masses, pressures, stresses and temperatures turn too", "[cli]") {
    CHECK(inches(said("of {} under even tension", amount(81, Unit::cm3))) ==
          "of 4.94 in3 under even tension"); // 81 / 16.387
    CHECK(inches(said("for the {} that are held back", amount(1640, Unit::cm3))) ==
          "for the 100 in3 that are held back");
    CHECK(inches(said("{} on a square of {}", amount(50, Unit::N), mm(25.4))) ==
          "11 lbf on a square of 1 in");
    CHECK(inches(amount(110, Unit::kg)) == "242.5 lb");
    CHECK(inches(amount(0.5, Unit::kPa)) == "10.4 psf");
    CHECK(inches(amount(235, Unit::MPa)) == "34080 psi");
    CHECK(inches(said("air of {} and {} %", amount(20, Unit::C), number(30))) == "air of 68 F and 30 %");
}

TEST_CASE("text in a message stays as it was given", "[cli]") {
    for (const char* text : {"glass 10 mm", "angle 30x30x3", "0.437 N/mm", "write a text like \"42 mm\"", "",
                             "a source of 12 mm of paper", "{}"})
        CHECK(inches(said("{}", text)) == text);
}

TEST_CASE("a place drawn in inches stays so, and is in millimetres for who reads those", "[cli]") {
    const Message message = said("books, at x {}", Amounts{.values = {949.96, 59.944}, // 37.4 and 2.36 in
                                                           .unit = Unit::mm,
                                                           .digits = decimals(0),
                                                           .joints = {", y "},
                                                           .is_place = true,
                                                           .is_drawn_in_inches = true});
    CHECK(as_drawn(message) == "books, at x 37.4, y 2.36 in");
    CHECK(inches(message) == "books, at x 37.4, y 2.36 in");
    CHECK(in_words(message, Units::mm) == "books, at x 950, y 60 mm");
    CHECK(as_drawn(said("span of {}", mm(20))) == "span of 20 mm"); // else in our own units
}

TEST_CASE("a result is put into words, and its situations are still found by their names", "[cli]") {
    Result result;
    result.governing_situation = said("books, at {}", place(950, 60, decimals(0)));
    result.situations.resize(1);
    result.situations[0].name = result.governing_situation;
    result.checks.resize(1);
    result.checks[0].situation = result.governing_situation;
    result.checks[0].basis = said("half the skin of {}: more", mm(20));
    result.warnings = {said("the skin dishes by {}", mm(50.8))};
    const Result worded = in_words(result, Units::inch);
    CHECK(text_of(worded.governing_situation) == "books, at x 37-3/8, y 2-3/8 in");
    CHECK(worded.situations[0].name == worded.governing_situation);
    CHECK(worded.checks[0].situation == worded.governing_situation);
    CHECK(text_of(worded.checks[0].basis) == "half the skin of 13/16 in (0.79): more");
    CHECK(texts_of(worded.warnings) == std::vector<std::string>{"the skin dishes by 2 in"});
    CHECK(text_of(in_words(result, Units::mm).checks[0].basis) == "half the skin of 20 mm: more");
}

TEST_CASE("a fault is put into words, its place in the file stays", "[cli]") {
    Error error(ErrorKind::input, Fault{"recesses[1].depth", said("{} is not below the thickness", mm(254)),
                                        said("give less than {}", mm(25.4))});
    error.file = "desk.json";
    CHECK(std::string(error.what()) == "recesses[1].depth: 254 mm is not below the thickness");
    const Error worded = in_words(error, Units::inch);
    CHECK(worded.kind() == ErrorKind::input);
    CHECK(worded.file == "desk.json");
    CHECK(worded.faults().front() ==
          Fault{"recesses[1].depth", "10 in is not below the thickness", "give less than 1 in"});
}
