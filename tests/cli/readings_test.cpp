// SPDX-License-Identifier: MIT
#include "cli/read/readings.hpp"

#include "cli/words/said.hpp"
#include "materials/error.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using namespace hollowtop::cli;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;

namespace {

void expect_reading(const Reading& reading, double x, double y, double thickness) {
    CHECK_THAT(reading.at.x, WithinAbs(x, 1e-9));
    CHECK_THAT(reading.at.y, WithinAbs(y, 1e-9));
    CHECK_THAT(reading.thickness, WithinAbs(thickness, 1e-9));
}

/// The one reading that all these texts mean.
void expect_the_one(std::string_view text, double mm = 1) {
    INFO(text);
    const ReadingsFile file = readings_of(text, mm);
    REQUIRE(file.readings.size() == 1);
    expect_reading(file.readings.front(), 120, 340.5, 18.2);
}

std::string refusal(std::string_view text) {
    try {
        (void)readings_of(text, 1);
    } catch (const Error& error) {
        CHECK(error.kind() == ErrorKind::input);
        const Fault& first = error.faults().front();
        return first.place + ": " + in_words(first.what, Units::mm) + "; " +
               in_words(first.remedy, Units::mm);
    }
    return "taken";
}

} // namespace

TEST_CASE("readings are taken from tables as makers and spreadsheets write them", "[cli][readings]") {
    expect_the_one("120,340.5,18.2\n");
    expect_the_one("x,y,thickness\n\n120,340.5,18.2\n\n");
    expect_the_one("\xEF\xBB\xBFx;y;Dicke\r\n120;340,5;18,2\r\n;;\r\n");
    expect_the_one("thickness\tx\ty\n18.2\t120\t340.5\n");
    expect_the_one("# taken on the bench\n120 340.5   18.2");
    expect_the_one("nr,x (cm),y (cm),thickness [mm]\n1,12,34.05,18.2\n");
    expect_the_one("Länge;Breite;Stärke\n120;340,5;18,2");
    expect_the_one("x,y,t\n12 cm,34.05cm,18.2 mm\n");
    expect_the_one("12, 34.05, 1.82", 10);
    expect_the_one("x,y,épaisseur,incertitude\n120,340.5,18.2,0.3");
}

TEST_CASE("a mark of inches at the end of a line is a unit, not a quote", "[cli][readings]") {
    // 0.5" was once read as 0.5 mm
    const ReadingsFile file = readings_of("12\",8\",0.5\"\n\"24\"\"\",8\",0.75\"\n", 1);
    REQUIRE(file.readings.size() == 2);
    expect_reading(file.readings[0], 12 * 25.4, 8 * 25.4, 0.5 * 25.4);
    expect_reading(file.readings[1], 24 * 25.4, 8 * 25.4, 0.75 * 25.4); // quoted as RFC 4180 does
}

TEST_CASE("a column of uncertainties goes with its readings, and may have gaps", "[cli][readings]") {
    const ReadingsFile file = readings_of("x,y,thickness,uncertainty\n1,2,18,0.3\n3,4,19,\n", 1);
    REQUIRE(file.readings.size() == 2);
    CHECK(file.readings[0].sd == 0.3);
    CHECK_FALSE(file.readings[1].sd);
    CHECK(file.readings[1].line == 3);
}

TEST_CASE("inches may be fractions", "[cli][readings]") {
    const ReadingsFile file = readings_of("x,y,thickness\n4-1/2,10,11/16\n", 25.4);
    REQUIRE(file.readings.size() == 1);
    expect_reading(file.readings.front(), 114.3, 254, 17.4625);
}

TEST_CASE("readings are taken from JSON, with units and the gauge's own error", "[cli][readings]") {
    expect_the_one("[[120, 340.5, 18.2]]");
    expect_the_one(R"([{"x": 120, "y": "34.05 cm", "thickness": 18.2}])");
    const ReadingsFile file =
        readings_of(R"({"units": "cm", "gauge": "0.2 mm", "readings": [[12, 34.05, 1.82]]})", 1);
    REQUIRE(file.readings.size() == 1);
    expect_reading(file.readings.front(), 120, 340.5, 18.2);
    CHECK(file.gauge_sd == 0.2);
}

TEST_CASE("how a table was read is told where it is not plain", "[cli][readings]") {
    const ReadingsFile file = readings_of("x;y;Dicke;Datum\n1;2,5;18;3. Mai\n", 1);
    REQUIRE(file.notes.size() == 2);
    CHECK(file.notes[0] == "Columns that were not read: \"Datum\".");
    CHECK(file.notes[1] == "Commas were read as decimal points.");
}

TEST_CASE("a table that cannot be read is answered with what would be right", "[cli][readings]") {
    CHECK(refusal("a,b,c\n1,2,18\n") ==
          "line 1: no column is known as x; the heading says \"a\", \"b\", \"c\"; name the columns x, y, "
          "thickness (many "
          "languages are known), or leave the heading out and write x, y and thickness in this order");
    CHECK(refusal("120,5,340,5,18,2\n") == "line 1: 6 values stand here, where 3 are wanted: "
                                           "\"120,5,340,5,18,2\"; commas part the columns and the decimals: "
                                           "save it with semicolons, or with decimal points");
    CHECK_THAT(refusal("1,2,18\n3,4\n"), Contains("line 2: 2 values stand here, where 3 are wanted"));
    CHECK_THAT(refusal("1,2,18\n3,4,thin\n"), Contains("line 2: \"thin\" is no length"));
    CHECK_THAT(refusal("\n\n"), Contains("there are none"));
    CHECK_THAT(refusal("x,y,thickness\n"), Contains("only a heading stands there"));
    CHECK_THAT(refusal("x,y,y,thickness\n1,2,3,4\n"), Contains("two columns are known as y"));
    CHECK_THAT(refusal("[[1, 2]]"), Contains("write [x, y, thickness]"));
    CHECK_THAT(refusal(R"({"readings": [], "unit": "mm"})"), Contains("unit"));
    CHECK_THROWS_AS(mm_of_unit("furlong"), Error);
}

TEST_CASE("a comma between quotes is part of its cell", "[cli][readings]") {
    expect_the_one("\"x\",\"y\",\"thickness, mm\"\n\"120\",\"340,5\",\"18,2\"\n");
    expect_the_one("x,y,thickness\n120,\"340,5\", \"18,2\" \n");
    CHECK(refusal("x,y,thickness\n\"1,200\",340.5,18.2\n") ==
          "line 2: \"1,200\" may be thousands or a decimal comma; write it without the comma, or with a "
          "decimal point");
    CHECK_THAT(refusal("x,y,thickness\n120,\"340,5,18.2\n"), Contains("line 2: 4 values stand here"));
}

TEST_CASE("a number beyond the columns of a heading is refused, a remark is not", "[cli][readings]") {
    // 340,5 was once read as 340 and a skin of 5
    CHECK_THAT(refusal("x,y,thickness\n120,340,5,18.2\n"),
               Contains("line 2: 4 values stand here, where 3 are wanted"));
    CHECK_THAT(refusal("x,y,thickness\n120,5,340,5,18,2\n"),
               Contains("commas part the columns and the decimals"));
    expect_the_one("x,y,thickness\n120,340.5,18.2,near the knot\n");
}

TEST_CASE("an empty cell at the start or end of a line of tabs keeps the others in their columns",
          "[cli][readings]") {
    expect_the_one("nr\tx\ty\tthickness\n\t120\t340.5\t18.2\n");
    expect_the_one("x\ty\tthickness\tremark\n120\t340.5\t18.2\t\n");
    expect_the_one("\tx\ty\tthickness\n\t120\t340.5\t18.2\n"); // all of it stands in by one
    expect_the_one("\t120\t340.5\t18.2\t\n");
    expect_the_one("\t120 340.5 18.2\n"); // blanks part it
    const std::string told = refusal("x\ty\tthickness\n120\t340.5\t18.2\n\t340.5\t18.2\n");
    CHECK(told == refusal("x;y;thickness\n120;340.5;18.2\n;340.5;18.2\n"));
    CHECK_THAT(told, Contains("line 3: the x is missing; gauge it, or strike the line out"));
}

TEST_CASE("every line at fault is told in one run", "[cli][readings]") {
    try {
        (void)readings_of("1,2,a\n1,2,18\n1,2,b\n", 1);
        FAIL("taken");
    } catch (const Error& error) {
        REQUIRE(error.faults().size() == 2);
        CHECK(error.faults()[1].place == "line 3");
    }
}

TEST_CASE("a reading beyond all measure is refused, also where its unit makes it so", "[cli][readings]") {
    CHECK(refusal("1,2,1e308\n") == "line 1: \"1e308\" is too large; give at most 100 m");
    CHECK_THROWS_AS(readings_of("1e308,1,18\n", 25.4), Error);
}
