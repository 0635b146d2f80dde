// SPDX-License-Identifier: MIT
#include "solver/readout/sag_in_time.hpp"

#include "checks_for_tests.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

TEST_CASE("sag in time starts at once, ends after the years, and most of the creep comes early", "[solver]") {
    Response response = response_of(situation("standing loads", Stage::at_once, Duration::long_term));
    response.situations.push_back(
        situation("standing loads after the years", Stage::years, Duration::long_term));
    response.situations[0].sag_mm = 2;
    response.situations[1].sag_mm = 3.2;
    const std::vector<SagInTime> rows = sag_in_time(response, 10);
    REQUIRE(rows.size() == 6);
    CHECK(rows.front().sag_mm == 2);
    CHECK_THAT(rows.back().sag_mm, WithinRel(3.2));
    // by hand: (1/50)^0.2 = exp(-0.2 ln 50) = 0.4573
    CHECK(rows[1].years == 1);
    CHECK_THAT(rows[1].sag_mm, WithinRel(2 + 1.2 * 0.4573, 1e-4));
    CHECK_THAT(share_of_creep(10), WithinRel(0.7248, 1e-4)); // exp(-0.2 ln 5)
    for (std::size_t i = 1; i < rows.size(); ++i) CHECK(rows[i].sag_mm > rows[i - 1].sag_mm);
}

TEST_CASE("sag in time is not told where nothing stays", "[solver]") {
    CHECK(sag_in_time(response_of(situation("guest", Stage::passing, Duration::short_term)), 10).empty());
}

TEST_CASE("the years that are asked for are told, where creep is known so long", "[solver]") {
    Response response = response_of(situation("standing loads", Stage::at_once, Duration::long_term));
    response.situations.push_back(
        situation("standing loads after the years", Stage::years, Duration::long_term));
    response.situations[0].sag_mm = 2;
    response.situations[1].sag_mm = 3.2;
    const std::vector<SagInTime> rows = sag_in_time(response, 15);
    REQUIRE(rows.size() == 7);
    CHECK(rows[4].years == 15);
    // by hand: (15/50)^0.2 = exp(-0.2 ln (10/3)) = 0.7860
    CHECK_THAT(rows[4].sag_mm, WithinRel(2 + 1.2 * 0.7860, 1e-4));
    CHECK(sag_in_time(response, 80).size() == 6);
}
