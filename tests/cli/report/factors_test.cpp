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
                                 allowed.bending_along.value, Units::mm);
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
    REQUIRE(reckoned_of(basis, 50, Units::mm));
    CHECK(reckoned_of(basis, 50, Units::mm)->factors.front().source == "the same");
    CHECK_FALSE(reckoned_of(basis, 49, Units::mm));
    CHECK_FALSE(reckoned_of("half the skin", 50, Units::mm));
}
