// SPDX-License-Identifier: MIT
#include "tests/solver/checks_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace hollowtop;
using Catch::WithinRel;

namespace {

/// X = 40, Y = 2 in tension and 5 in compression, S = 8: round numbers for working by hand.
materials::AllowableStresses round_numbers() {
    materials::AllowableStresses allowables;
    allowables.bending_along.value = 40;
    allowables.tension_across.value = 2;
    allowables.compression_across.value = 5;
    allowables.shear.value = 8;
    return allowables;
}

constexpr double tight = 1e-12; // a square root of a sum

} // namespace

TEST_CASE("stresses together follow Norris", "[checks][published]") {
    const auto allowables = round_numbers();
    // One stress alone is its own share.
    CHECK_THAT(norris_utilisation({20, 0, 0}, allowables, 2), WithinRel(0.5, tight));
    CHECK_THAT(norris_utilisation({-20, 0, 0}, allowables, 2), WithinRel(0.5, tight));
    CHECK_THAT(norris_utilisation({0, 1, 0}, allowables, 2), WithinRel(0.5, tight));
    CHECK_THAT(norris_utilisation({0, -2.5, 0}, allowables, 2), WithinRel(0.5, tight));
    CHECK_THAT(norris_utilisation({0, 0, 4}, allowables, 2), WithinRel(0.5, tight));
    // 0.25 - 0.25 + 0.25 + 0.25 = 0.5 with both in tension; 0.25 + 0.25 + 0.25 + 0.25 = 1 with one pressed.
    CHECK_THAT(norris_utilisation({20, 1, 4}, allowables, 2), WithinRel(std::sqrt(0.5), tight));
    CHECK_THAT(norris_utilisation({-20, 1, 4}, allowables, 2), WithinRel(1.0, tight));
    CHECK_THAT(norris_utilisation({20, -2.5, 4}, allowables, 2), WithinRel(1.0, tight));
}

TEST_CASE("a place that bears more across the grain uses less of it", "[checks]") {
    // Y = 4: 0.5^2 - 0.5 x 0.25 + 0.25^2 = 0.1875
    CHECK_THAT(norris_utilisation({20, 1, 0}, round_numbers(), 4), WithinRel(std::sqrt(0.1875), tight));
    CHECK_THAT(norris_utilisation({0, -2.5, 0}, round_numbers(), 4),
               WithinRel(0.5, tight)); // pressed: the same
}

TEST_CASE("growing stresses use up strength in proportion", "[checks][property]") {
    const auto allowables = round_numbers();
    const double once = norris_utilisation({7, 0.4, -1.1}, allowables, 2);
    CHECK_THAT(norris_utilisation({21, 1.2, -3.3}, allowables, 2), WithinRel(3 * once, tight));
}

TEST_CASE("the check takes the worse face and has the capacity 1", "[checks]") {
    SituationResponse loaded = situation("books", Stage::at_once, Duration::long_term);
    loaded.stress = even_field({1, 0, 0}, {-10, 0.5, 1});
    const Piece piece = oak_top();
    const Response response = response_of(loaded);
    const auto row = judge_combined(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->capacity == 1);
    CHECK(row->unit == "1");
    // White oak, quarter-sawn, long: 10/33.64 = 0.2973, 0.5/1.408 = 0.3551, 1/4.618 = 0.2165:
    // 0.0884 + 0.1056 + 0.1261 + 0.0469 = 0.3670, square root 0.6058.
    CHECK_THAT(row->demand, WithinRel(0.6058, 5e-4)); // four digits by hand
    CHECK(in_own_units(row->basis).find("at the underside") == 0);
}

TEST_CASE("stresses together use the strength that a place has where the whole top takes most", "[checks]") {
    // s_eff 0.4 MPa on 81 cm3 where a face bears 0.5 MPa: there the strength is 1.408 x 0.5/0.4 = 1.760;
    // 0.5/1.760 = 0.2841 = 0.4/1.408
    SituationResponse loaded = situation("books", Stage::at_once, Duration::long_term);
    loaded.stress = even_field({1, 0, 0}, {0, 0.5, 0});
    loaded.tension_across = {
        .norm = 0.4 * std::pow(81000.0, 0.2), .exponent = 5, .at = {500, 300}, .thickness = 30, .peak = 0.5};
    const Piece piece = oak_top();
    const Response response = response_of(loaded);
    const auto row = judge_combined(input_of(piece, response));
    REQUIRE(row);
    CHECK_THAT(row->demand, WithinRel(0.4 / (5.5 * (1 - 1.645 * 0.25) / 2.3), 1e-9));
}
