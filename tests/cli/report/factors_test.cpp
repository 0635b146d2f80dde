// SPDX-License-Identifier: MIT
#include "cli/report/sections/factors.hpp"

#include "materials/strength.hpp"
#include "materials/wood.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using namespace hollowtop::cli;
using Catch::Matchers::WithinRel;

TEST_CASE("a strength's factors lead from the published value to what is allowed", "[report]") {
    const materials::Wood& wood = materials::find_wood("black cherry");
    const auto allowed = materials::handbook_allowables(wood, 0, 8, 0.8, Duration::short_term);
    const auto way = reckoned_of(said("the top face; {}", allowed.bending_along.basis),
                                 allowed.bending_along.value, "MPa", Units::mm);
    REQUIRE(way);
    CHECK_THAT(way->start_value, WithinRel(*wood.mor, 1e-9));
    CHECK(way->start.find("mean 85 MPa of clear") == 0); // Wood Handbook FPL-GTR-190 Table 5-3a: 85 000 kPa
    CHECK(way->start_source.find("Wood Handbook") == 0);
    double product = way->start_value;
    for (const Factor& factor : way->factors) {
        CHECK_FALSE(factor.why.empty());
        product *= factor.divides ? 1 / factor.value : factor.value;
    }
    CHECK_THAT(product, WithinRel(allowed.bending_along.value, 1e-9));
    // the weakest twentieth, ten years, the grade, the load's duration
    REQUIRE(way->factors.size() == 4);
    CHECK(way->factors[1].divides);
    CHECK_THAT(way->factors[2].value, WithinRel(0.8, 1e-12));
    CHECK(way->factors[2].source == "stated strength ratio");
}

TEST_CASE("a sentence that does not end in the capacity is no way to it", "[report]") {
    const Message basis = said("mean {} of clear oak (a table) x {} for the weakest (the same) = {}",
                               amount(100, Unit::MPa), number(0.5), amount(50, Unit::MPa));
    REQUIRE(reckoned_of(basis, 50, "MPa", Units::mm));
    CHECK(reckoned_of(basis, 50, "MPa", Units::mm)->factors.front().source == "the same");
    CHECK_FALSE(reckoned_of(basis, 49, "MPa", Units::mm));
    CHECK_FALSE(reckoned_of("half the skin", 50, "mm", Units::mm));
}

TEST_CASE("a sag allowed is its span over the divisor, and no other number", "[report]") {
    const Message basis = said("span of {} / {} (the default; a standard, table 7.2, from memory)",
                               amount(1740, Unit::mm), number(300));
    const auto way = reckoned_of(basis, 5.8, "mm", Units::mm);
    REQUIRE(way);
    CHECK(way->start == "span of 1740 mm");
    CHECK_THAT(way->start_value, WithinRel(1740, 1e-12));
    REQUIRE(way->factors.size() == 1);
    CHECK(way->factors[0].divides);
    CHECK(way->factors[0].source == "the default; a standard, table 7.2, from memory");
    CHECK_FALSE(reckoned_of(basis, 5.7, "mm", Units::mm)); // 1740 / 300 is 5.8
    const Message springy = said("clear width of {} / {}; {} on a hand (judgement)", amount(400, Unit::mm),
                                 number(400), amount(300, Unit::N));
    CHECK_FALSE(reckoned_of(springy, 1, "mm", Units::mm)); // what follows is no source of the divisor
}

TEST_CASE("the force on a screw keeps its factors, and a number within a source is none", "[report]") {
    const Message basis =
        said("a screw of {}; the weakest (1 - {} x {} %, a table) of the mean load / {} (a standard), x {} "
             "as its thread is under {} d (a page), x k_mod {} / {}",
             "front", number(1.645, hollowtop::significant(4)), number(15), number(1.33), number(0.5),
             number(7), number(0.9), number(1.3));
    const double capacity = 1000 / 1.33 * 0.5 * 0.9 / 1.3;
    const auto way = reckoned_of(basis, capacity, "N", Units::mm);
    REQUIRE(way);
    CHECK(way->start == "the weakest (1 - 1.645 x 15 %, a table) of the mean load");
    CHECK_THAT(way->start_value, WithinRel(1000, 1e-9));
    REQUIRE(way->factors.size() == 4);
    CHECK(way->factors[1].why == "as its thread is under 7 d");
    CHECK(way->factors[1].source == "a page");
    CHECK(way->factors[2].why == "k_mod");
    CHECK(way->factors[3].divides);
}
