// SPDX-License-Identifier: MIT
#include "cli/read/gauge_readings.hpp"

#include "cli/words/messages.hpp"
#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace hollowtop;
using namespace hollowtop::cli;
using Catch::Matchers::WithinRel;

namespace {

ProofTest test_of(double force = 500) {
    ProofTest test;
    test.force_N = force;
    test.gauges = {{.where = "under the load", .at = {}}, {.where = "middle", .at = {}}};
    return test;
}

std::string refusal(const std::string& text) {
    try {
        parse_readings(text, test_of());
    } catch (const Error& error) {
        const std::string told = message_of(error), lead = "hollowtop: ";
        return told.substr(lead.size(), told.size() - lead.size() - 1); // less the line feed
    }
    return "";
}

std::string doubt(std::vector<GaugeFound> found) {
    try {
        expect_plausible(found);
    } catch (const Error& error) {
        return message_of(error);
    }
    return "";
}

} // namespace

TEST_CASE("readings are a table with a load and a column for each gauge", "[cli]") {
    const GaugeReadings file =
        parse_readings("load (kg), A, B\n# first\n10, 0.40, 0.20\n\n20, 0.80, 0.41\n", test_of());
    REQUIRE(file.readings.size() == 4);
    CHECK_THAT(file.readings[0].force_N, WithinRel(98.0665, 1e-9));
    CHECK(file.readings[0].reading_mm == 0.40);
    CHECK(file.readings[3].gauge == 1);
    CHECK(file.readings[3].reading_mm == 0.41);
    CHECK(file.notes.empty());
}

TEST_CASE("decimal commas go with semicolons and tabs, and a heading of another language is understood",
          "[cli]") {
    const GaugeReadings german =
        parse_readings("Last (kg);Uhr A;Uhr B\r\n10;0,40;0,20\r\n;;\r\n20;0,80;0,41\r\n", test_of());
    REQUIRE(german.readings.size() == 4);
    CHECK(german.readings[2].reading_mm == 0.80);
    const GaugeReadings french = parse_readings("\xEF\xBB\xBF"
                                                "charge (N)\tA\tB\n125\t0,3\t0,1\n",
                                                test_of());
    REQUIRE(french.readings.size() == 2);
    CHECK(french.readings[0].force_N == 125);
    CHECK(french.readings[0].reading_mm == 0.3);
}

TEST_CASE("a heading in words that nobody knows leaves the columns in their order, and says so", "[cli]") {
    const GaugeReadings file = parse_readings("xyzzy, foo, bar\n25, 0.3, 0.1\n50, 0.6, 0.2\n", test_of());
    REQUIRE(file.readings.size() == 4);
    CHECK(file.readings[0].force_N == 125); // percent of 500 N
    CHECK(file.notes.size() == 2);
}

TEST_CASE("columns may stand in any order where they are headed", "[cli]") {
    const GaugeReadings file = parse_readings("B,A,load %\n0.1,0.3,25\n0.2,0.6,50\n", test_of());
    REQUIRE(file.readings.size() == 4);
    CHECK(file.readings[0].gauge == 1);
    CHECK(file.readings[1].reading_mm == 0.3);
    CHECK(file.readings[1].force_N == 125);
}

TEST_CASE("readings may be in centimetres or inches, in the heading or behind the number", "[cli]") {
    const GaugeReadings file = parse_readings("load %, A (cm), B (in)\n100, 0.12, 0.02\n", test_of());
    CHECK_THAT(file.readings[0].reading_mm, WithinRel(1.2, 1e-12));
    CHECK_THAT(file.readings[1].reading_mm, WithinRel(0.508, 1e-12));
    CHECK(
        parse_readings("100 %; 1,2 mm; 0,5 mm\n50 %; 0,6 mm; 0,25 mm\n", test_of()).readings[0].reading_mm ==
        1.2);
}

TEST_CASE("a step written down twice counts once, and is named", "[cli]") {
    const GaugeReadings file = parse_readings("load %,A,B\n25,0.3,0.1\n25,0.3,0.1\n50,0.6,0.2\n", test_of());
    CHECK(file.readings.size() == 4);
    REQUIRE(file.notes.size() == 1);
    CHECK(file.notes[0] == "line 3 repeats a step word for word: counted once");
}

TEST_CASE("a step that repeats one gauge alone keeps what the others read", "[cli]") {
    const GaugeReadings file = parse_readings("load %,A,B\n25,0.3,0.1\n25,0.3,0.12\n50,0.6,0.2\n", test_of());
    CHECK(file.notes.empty());
    REQUIRE(file.readings.size() == 6);
    CHECK(file.readings[3].reading_mm == 0.12);
}

TEST_CASE("a gauge that reads beyond all measure is refused", "[cli]") {
    CHECK(refusal("load (kg), A (cm)\n10, 1e308\n") ==
          "line 2: \"1e308\" is too large for a reading; give at most 100 m");
}

TEST_CASE("a mark of inches behind a gauge's reading counts", "[cli]") {
    const GaugeReadings file = parse_readings("load (kg);A;B\n10;0.02\";0.4\n20;0.04\";0.8\n", test_of());
    CHECK_THAT(file.readings[0].reading_mm, WithinRel(0.02 * 25.4, 1e-12));
    CHECK(file.readings[1].reading_mm == 0.4);
}

TEST_CASE("a gauge that was not read may be left out", "[cli]") {
    const GaugeReadings file = parse_readings("load %,A,B\n25,0.3,\n50,-,0.2\n", test_of());
    REQUIRE(file.readings.size() == 2);
    CHECK(file.readings[1].gauge == 1);
}

TEST_CASE("what cannot be read as readings is refused with a way out", "[cli]") {
    CHECK(refusal("") == "no reading is in it; write a line for each step: load, A, B, C");
    CHECK(refusal("load %,A,B\n") == "there is a heading and no reading; write a line for each step");
    CHECK(refusal("25,0,53,0,47\n50,1,06,0,94\n") ==
          "line 1: 5 numbers, and there is one load and 2 gauges; with decimal commas part the columns by "
          "semicolons: 25;0,53;0,47");
    CHECK(refusal("A,B,load (kg)\n0.3,0.1,ten\n") ==
          "line 2: \"ten\" is no load; write a number, such as 25");
    CHECK(
        refusal("0.3,25,0.1\n0.6,50,0.2\n") ==
        "line 1: the load and the readings look exchanged: the load comes first; write the load in the first "
        "column, what the gauges read behind it");
    CHECK(refusal("load,A,B\n13,0.3,0.1\n27,0.6,0.2\n") ==
          "line 2: a load of 13 of what?; head the column \"load (kg)\", \"load (N)\", \"load (lb)\" or "
          "\"load (%)\"");
    CHECK(refusal("load (kg),A,B\n1250,0.3,0.1\n") ==
          "a load is more than three times the one that is tested; see whether its unit is right: %, kg, lb "
          "or N");
    CHECK(refusal("load %,A,A\n25,0.3,0.1\n") ==
          "line 1: two columns are headed as gauge A; head each column with its own gauge: A, B, C");
}

TEST_CASE("readings of another unit, and of gauges that were exchanged, are found out", "[cli]") {
    const auto gauge = [](std::size_t g, double ratio, double slope) {
        return GaugeFound{
            .gauge = g, .n_readings = 4, .read_over_computed = ratio, .computed_slope = slope, .error = 0.02};
    };
    CHECK(doubt({gauge(0, 1.1, 1), gauge(1, 1.05, 0.4)}) == "");
    CHECK(doubt({gauge(0, 0.105, 1), gauge(1, 0.11, 0.4)}).find("they look like cm") != std::string::npos);
    CHECK(doubt({gauge(0, 0.04, 1), gauge(1, 0.041, 0.4)}).find("they look like inches") !=
          std::string::npos);
    CHECK(doubt({gauge(0, 10, 1), gauge(1, 10.5, 0.4)}).find("kg written as N") != std::string::npos);
    CHECK(doubt({gauge(0, 4, 1), gauge(1, 4, 0.4)}).find("over three times") != std::string::npos);
    // A should read 1, B 0.4: they read 0.42 and 1.05
    CHECK(doubt({gauge(0, 0.42, 1), gauge(1, 2.625, 0.4)}).find("gauges A and B look exchanged") !=
          std::string::npos);
}
