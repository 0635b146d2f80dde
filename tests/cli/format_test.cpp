// SPDX-License-Identifier: MIT
#include "cli/words/format.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

using namespace hollowtop;
using namespace hollowtop::cli;

TEST_CASE("utilisation is rounded up, so that nothing over its limit looks as if it met it", "[cli]") {
    CHECK(utilisation_text(1.004) == "101 %");
    CHECK(utilisation_text(std::nextafter(1.0, 2.0)) == "101 %");
    CHECK(utilisation_text(1.0) == "100 %");
    CHECK(utilisation_text(0.83) == "83 %");
    CHECK(utilisation_text(0.8301) == "84 %");
    CHECK(utilisation_text(0) == "0 %");
}

TEST_CASE("a bound on an error is rounded up", "[cli]") {
    CHECK(error_text(0.51) == "0.6 %");
    CHECK(error_text(0.001) == "0.1 %");
    CHECK(error_text(0) == "0.0 %");
}

TEST_CASE("no number is shown as minus nought", "[cli]") {
    CHECK(fixed(-0.0, 1) == "0.0");
    CHECK(fixed(-0.04, 1) == "0.0");
    CHECK(fixed(-0.05001, 1) == "-0.1");
}

TEST_CASE("a number that is not finite is refused before it is shown", "[cli]") {
    const double value =
        GENERATE(std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity());
    CHECK_THROWS_AS(fixed(value, 1), Error);
    CHECK_THROWS_AS(sixteenths(value), Error);
    CHECK_THROWS_AS(utilisation_text(value), Error);
}

TEST_CASE("numbers of a table of data keep their significant digits and no more", "[cli]") {
    CHECK(significant(1.23456, 3) == "1.23");
    CHECK(significant(12345, 3) == "12300");
    CHECK(significant(0.000567891, 3) == "0.000568");
    CHECK(significant(9.9996, 3) == "10");
    CHECK(significant(2, 6) == "2");
    CHECK(significant(-0.5, 3) == "-0.5");
    CHECK(significant(1.23456e-7, 3) == "1.23e-07");
    CHECK(significant(0, 3) == "0");
}

TEST_CASE("inches are shown to the nearest sixteenth in lowest terms", "[cli]") {
    CHECK(sixteenths(1.625) == "1-5/8");
    CHECK(sixteenths(0.1875) == "3/16");
    CHECK(sixteenths(0.99) == "1");
    CHECK(sixteenths(0) == "0");
    CHECK(sixteenths(-0.5) == "-1/2");
    CHECK(sixteenths(0.5 - 1.0 / 32 - 1e-9) == "7/16");
}

TEST_CASE("a whole piece in inches is told in feet as well from a yard on", "[format]") {
    CHECK(whole_dimension_text(1900, Units::mm) == "1900 mm");
    CHECK(whole_dimension_text(75 * 25.4, Units::inch) == "6 ft 3 in (75 in)");
    CHECK(whole_dimension_text(72 * 25.4, Units::inch) == "6 ft (72 in)");
    CHECK(whole_dimension_text(41.5 * 25.4, Units::inch) == "3 ft 5-1/2 in (41-1/2 in)");
    CHECK(whole_dimension_text(35 * 25.4, Units::inch) == "35 in"); // under a yard
    CHECK(whole_dimension_text(36 * 25.4, Units::inch) == "3 ft (36 in)");
    CHECK(whole_dimension_text(1500, Units::inch) == "4 ft 11-1/16 in, 59-1/16 in (59.055)"); // 59.0551 in
}

TEST_CASE("movements, dimensions, places, stresses, forces and masses wear the units asked for", "[cli]") {
    CHECK(movement_text(2.74, Units::mm) == "2.7 mm");
    CHECK(movement_text(0.04, Units::mm) == "under 0.1 mm");
    CHECK(movement_text(0, Units::mm) == "0.0 mm");
    CHECK(movement_text(2.7, Units::inch) == "0.106 in (about 1/8)");
    CHECK(movement_text(0.4, Units::inch) == "0.016 in (under 1/16)");
    CHECK(dimension_text(42, Units::mm) == "42 mm");
    CHECK(dimension_text(41.275, Units::inch) == "1-5/8 in"); // what a maker's rule shows is said once
    CHECK(dimension_text(4.375 * 25.4, Units::inch) == "4-3/8 in");
    CHECK(dimension_text(25.4 * 3 / 64, Units::inch) == "3/64 in");
    CHECK(dimension_text(54 * 25.4, Units::inch) == "54 in"); // not a second time as 54.00
    CHECK(dimension_text(1372, Units::inch) == "54-1/64 in"); // 54.0157
    CHECK(dimension_text(20, Units::inch) == "13/16 in (0.787)");
    CHECK(place_text({.x = 950, .y = 60}, Units::mm) == "950, 60");
    CHECK(place_text({.x = 950, .y = 60}, Units::inch) == "37-3/8, 2-3/8");
    CHECK(stress_text(12.34, Units::mm) == "12.3 MPa");
    CHECK(stress_text(0.123, Units::mm) == "0.12 MPa");
    CHECK(stress_text(6.894757, Units::inch) == "1000 psi");
    CHECK(force_text(411.9, Units::mm) == "412 N (42 kg)");
    CHECK(force_text(444.82216, Units::inch) == "100 lbf");
    CHECK(mass_text(45.359237, Units::inch) == "100.0 lb");
    CHECK(mass_text(31.04, Units::mm) == "31.0 kg");
    CHECK(percent_text(0.34) == "0.3 %");
    CHECK(percent_text(31.4) == "31 %");
    CHECK(amount_text(3, "1", Units::mm) == "3.00");
    CHECK(amount_text(5.4, "mm", Units::inch) == "0.213 in");
    CHECK(amount_text(8, "Hz", Units::mm) == "8.0 Hz");
}
