// SPDX-License-Identifier: MIT
#include "materials/digits.hpp"

#include <catch2/catch.hpp>

#include <limits>

using namespace hollowtop::materials;

TEST_CASE("numbers in sentences keep three digits and no trailing zeros", "[materials]") {
    CHECK(digits(0.7368) == "0.737");
    CHECK(digits(2.3) == "2.3");
    CHECK(digits(105) == "105");
    CHECK(digits(12300) == "12300");
    CHECK(digits(0.02) == "0.02");
    CHECK(digits(1.645, 4) == "1.645");
    CHECK(digits(9.999) == "10");
    CHECK(digits(-0.25) == "-0.25");
    CHECK(digits(1e-9, 3) == "0.000000001");
}

TEST_CASE("nothing is written as minus zero or infinity", "[materials]") {
    CHECK(digits(0) == "0");
    CHECK(digits(-0.0) == "0");
    CHECK(digits(-0.2, 1) == "-0.2");
    CHECK(digits(std::numeric_limits<double>::infinity()) == "not a number");
    CHECK(digits(std::numeric_limits<double>::quiet_NaN()) == "not a number");
}

TEST_CASE("a number beyond all measure is written with a power of ten", "[materials]") {
    // it was once written into too small a room, and what lay on the stack was told
    CHECK(digits(1e308) == "1e+308");
    CHECK(digits(-1.2345e70) == "-1.23e+70");
    CHECK(digits(4.2e-310) == "4.2e-310");
    CHECK(digits(123456789) == "123456789");
}

TEST_CASE("a source in a sentence is short and keeps its status", "[materials]") {
    CHECK(cited("NDS Table 2.3.2, checked against a copy of the source", "checked") ==
          " (NDS Table 2.3.2, checked)");
    CHECK(cited("Wood Handbook Table 5-3a; shrinkage Table 4-3", "from memory") ==
          " (Wood Handbook Table 5-3a, from memory)");
}
