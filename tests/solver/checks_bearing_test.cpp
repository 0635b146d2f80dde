// SPDX-License-Identifier: MIT
#include "tests/solver/checks_for_tests.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using Catch::WithinRel;

TEST_CASE("the most pressed support is held against compression across the grain, whatever the duration",
          "[checks]") {
    SituationResponse loaded = situation("a person", Stage::passing, Duration::short_term);
    loaded.supports = {{.support = "pad 1",
                        .centre = {50, 50},
                        .force_N = 900,
                        .pressure_MPa = 0.25,
                        .pressure_at = {60, 60}},
                       {.support = "pad 2",
                        .centre = {950, 50},
                        .force_N = 1800,
                        .pressure_MPa = 0.5,
                        .pressure_at = {940, 60}},
                       {.support = "edge", .centre = {500, 550}, .force_N = 9000, .pressure_at = {}}};
    const Piece piece = oak_top();
    const Response response = response_of(loaded);
    const auto row = judge_bearing(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->demand == 0.5);
    CHECK_THAT(row->capacity,
               WithinRel(7.4 / 1.67, 1e-12)); // white oak, Wood Handbook Table 5-3a; ASTM D245 Table 8
    CHECK(row->at == Point{940, 60});
    CHECK(in_own_units(row->basis).find("at pad 2; bearing across the grain") == 0);
}

TEST_CASE("the hardest pressing load is held against compression across the grain, and a plate is named",
          "[checks]") {
    SituationResponse loaded = situation("a vice", Stage::passing, Duration::short_term);
    loaded.load_bearings = {
        {.what = "\"books\"", .at = {500, 300}, .size = {300, 200}, .force_N = 60, .pressure_MPa = 0.001},
        {.what = "\"vice\", its lower pad",
         .at = {500, 40},
         .size = {30, 40},
         .force_N = 9000,
         .pressure_MPa = 7.5},
        {.what = "\"anvil\"", .at = {500, 40}, .force_N = 90000}};
    const Piece piece = oak_top();
    const Response response = response_of(loaded);
    const auto row = judge_load_bearing(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->demand == 7.5);
    CHECK_THAT(row->capacity,
               WithinRel(7.4 / 1.67, 1e-12)); // white oak, Wood Handbook Table 5-3a; ASTM D245 Table 8
    CHECK(in_own_units(row->basis).find("under \"vice\", its lower pad; ") == 0);
    // 7.5 / 4.43 = 1.69, sides 1.30 times as long: 39.03 and 52.04, rounded up to 5 mm
    CHECK(in_own_units(row->remedy) == "put a stiff plate of 40 x 55 mm between");
    loaded.load_bearings.resize(1);
    const Response light = response_of(loaded);
    CHECK(judge_load_bearing(input_of(piece, light))->demand == 0.001);
    loaded.load_bearings.clear();
    const Response bare = response_of(loaded);
    CHECK_FALSE(judge_load_bearing(input_of(piece, bare)));
}

TEST_CASE("knife edges have no area to press", "[checks]") {
    SituationResponse loaded = situation("a person", Stage::passing, Duration::short_term);
    loaded.supports = {{.support = "edge", .centre = {500, 0}, .force_N = 900, .pressure_at = {}}};
    const Piece piece = oak_top();
    const Response response = response_of(loaded);
    CHECK_FALSE(judge_bearing(input_of(piece, response)));
}
