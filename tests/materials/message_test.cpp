// SPDX-License-Identifier: MIT
#include "materials/message.hpp"

#include <catch2/catch.hpp>

#include <stdexcept>
#include <string>

using namespace hollowtop;

namespace {

/// Each amount as its unit and whether a bracket fits, to see what a writer is handed.
std::string shape_of(const Message& message) {
    return rendered(message, [](const Amounts& amounts, bool bracket_fits) {
        return "<" + std::to_string(amounts.values.size()) + std::string(word_of(amounts.unit)) +
               (bracket_fits ? "" : "!") + ">";
    });
}

} // namespace

TEST_CASE("a sentence in our own units has its values in its holes", "[materials]") {
    CHECK(in_own_units(said("span of {} / {}", amount(1270, Unit::mm, significant(4)), number(300))) ==
          "span of 1270 mm / 300");
    CHECK(in_own_units(said("{} of \"{}\", {} screws", amount(235, Unit::MPa), "S235", 4)) ==
          "235 MPa of \"S235\", 4 screws");
    CHECK(in_own_units(Message("nothing holds the top")) == "nothing holds the top");
    CHECK(in_own_units(Message(std::string("{} as it is"))) == "{} as it is"); // text is no pattern
    CHECK(in_own_units(said("density {} kg/m3 at {} %", number(702), number(12))) ==
          "density 702 kg/m3 at 12 %");
}

TEST_CASE("digits are significant ones or decimals, without trailing zeros", "[materials]") {
    CHECK(in_digits(12.6449, significant(3)) == "12.6");
    CHECK(in_digits(12345, significant(3)) == "12345"); // whole numbers keep theirs
    CHECK(in_digits(45, decimals(3)) == "45");
    CHECK(in_digits(0.5, decimals(3)) == "0.5");
    CHECK(in_digits(12.1254, decimals(3)) == "12.125");
    CHECK(in_digits(100, decimals(3)) == "100");
    CHECK(in_digits(-0.0001, decimals(3)) == "0");
    CHECK(in_digits(1e7, decimals(3)) == "10000000");
    CHECK(in_digits(949.6, decimals(0)) == "950");
}

TEST_CASE("several amounts share the unit behind the last", "[materials]") {
    CHECK(in_own_units(Message(amounts({90, 45}, " x ", Unit::mm))) == "90 x 45 mm");
    CHECK(in_own_units(Message(amounts({30, 50}, " to ", Unit::N))) == "30 to 50 N");
    Amounts three{.values = {0, 40, 80}, .unit = Unit::mm, .joints = {", ", " or "}};
    CHECK(in_own_units(Message(three)) == "0, 40 or 80 mm");
    CHECK(in_own_units(joined({"a", "b", "c"}, ", ", " and ")) == "a, b and c");
}

TEST_CASE("places say their unit once, or not at all", "[materials]") {
    CHECK(in_own_units(place(950, 60.4, decimals(0))) == "x 950, y 60 mm");
    CHECK(in_own_units(bare_place(1780, 0.25, decimals(3))) == "x 1780, y 0.25");
}

TEST_CASE("sentences hold sentences, and run on", "[materials]") {
    const Message inner = said("yield {} of {}", amount(235, Unit::MPa), "S235");
    CHECK(in_own_units(said("in \"{}\"; {}", "bar", inner)) == "in \"bar\"; yield 235 MPa of S235");
    Message row = "first";
    row += said(", x {}", number(0.5));
    row += std::string(" and ");
    row += std::string("text");
    CHECK(in_own_units(row) == "first, x 0.5 and text");
    CHECK(in_own_units("a " + inner + "!") == "a yield 235 MPa of S235!");
    CHECK(shape_of("a " + inner) == "a yield <1MPa> of S235"); // the amount stays one
}

TEST_CASE("messages are alike that say the same, however they were put together", "[materials]") {
    CHECK(Message("books") == Message(std::string("books")));
    CHECK(said("{}, {}", "books", "at rest") == Message("books, at rest"));
    CHECK(said("span {}", amount(20, Unit::mm)) == "span " + Message(amount(20, Unit::mm)));
    CHECK_FALSE(said("span {}", amount(20, Unit::mm)) == said("span {}", amount(20, Unit::N)));
    CHECK_FALSE(said("span {}", amount(20, Unit::mm)) == Message("span 20 mm")); // an amount is no text
    CHECK(Message().empty());
    CHECK(Message("").empty());
    CHECK(Message(std::string()).empty());
    CHECK_FALSE(Message("x").empty());
    CHECK_FALSE(Message(amount(0, Unit::mm)).empty());
}

TEST_CASE("a writer of amounts is told where brackets do not fit", "[materials]") {
    CHECK(shape_of(said("a skin of {}", amount(20, Unit::mm))) == "a skin of <1mm>");
    CHECK(shape_of(said("thinner than {} (common practice)", amount(12, Unit::mm))) ==
          "thinner than <1mm!> (common practice)");
    CHECK(shape_of(said("(leave {}) or {}", amount(12, Unit::mm), amount(20, Unit::mm))) ==
          "(leave <1mm!>) or <1mm>");
    CHECK(shape_of(said("({})", said("of {}", amounts({1, 2}, " x ", Unit::mm)))) == "(of <2mm!>)");
}

TEST_CASE("our tables mark their amounts with braces", "[materials]") {
    const Message thumb = marked("about {50 N} on {20 mm}; {30 to 50 N}; {10 x 10 to 20 x 20 mm}, a foot");
    CHECK(in_own_units(thumb) == "about 50 N on 20 mm; 30 to 50 N; 10 x 10 to 20 x 20 mm, a foot");
    CHECK(shape_of(thumb) == "about <1N> on <1mm>; <2N>; <4mm>, a foot");
    CHECK(marked("EN 1022, 12 %") == Message("EN 1022, 12 %"));
    CHECK(marked("").empty());
    CHECK_THROWS_AS(marked("{no amount}"), std::runtime_error);
    CHECK_THROWS_AS(marked("{50 N"), std::runtime_error);
    CHECK_THROWS_AS(marked("{50 furlongs}"), std::runtime_error);
}

TEST_CASE("an amount in plain text is seen", "[materials]") {
    for (const char* text :
         {"12 mm", "a skin of 20 mm, no less", "12mm", "(0.5 kPa)", "air of 20 C", "81 cm3 of"})
        CHECK(states_amount(text));
    for (const char* text : {"pulled out by 25 d l N/mm (from memory)", "0.437 N/mm", "11000 MPa/mm",
                             "density 549 kg/m3", "2260 N/m", "12 mm2", "angle 30x30x3", "Table 5-3a, 12 %",
                             "EN 1995-1-1 8.7.2(4)", "3 in the row", "", "mm", "at 25 Male screws", "5 Non"})
        CHECK_FALSE(states_amount(text));
}
