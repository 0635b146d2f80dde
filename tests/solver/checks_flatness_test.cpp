// SPDX-License-Identifier: MIT
#include "solver/capacity/limits.hpp"
#include "tests/solver/checks_for_tests.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

namespace {

Response bent(Stage stage, double value) {
    SituationResponse one = situation("books", stage, Duration::long_term);
    one.flatness = Flatness{.value_mm = value, .at = {500, 300}, .from = {200, 300}, .to = {800, 300}};
    return response_of(one);
}

} // namespace

TEST_CASE("a face 0.8 mm from a straightedge is flat enough at once, one 1.3 mm is not, up or down",
          "[checks]") {
    const Piece piece = oak_top();
    for (const double sign : {1.0, -1.0}) {
        const Response flat = bent(Stage::at_once, 0.8 * sign), hollow = bent(Stage::at_once, 1.3 * sign);
        const auto passes = judge_flatness(input_of(piece, flat)),
                   fails = judge_flatness(input_of(piece, hollow));
        REQUIRE((passes && fails));
        CHECK(passes->capacity == 1);
        CHECK(passes->demand == 0.8);
        CHECK(passes->at == Point{500, 300});
        CHECK(fails->demand > fails->capacity);
        CHECK_FALSE(judge_flatness_years(input_of(piece, flat)));
    }
}

TEST_CASE(
    "after the years a face may be 2 mm from a straightedge, or twice what is stated, or what is stated",
    "[checks]") {
    Piece piece = oak_top();
    const Response response = bent(Stage::years, 1.7);
    CHECK_FALSE(judge_flatness(input_of(piece, response)));
    CHECK(judge_flatness_years(input_of(piece, response))->capacity == 2);
    piece.limits.flatness = 0.7;
    CHECK_THAT(judge_flatness_years(input_of(piece, response))->capacity, WithinRel(1.4, 1e-12));
    piece.limits.flatness_years = 0.9;
    CHECK(judge_flatness_years(input_of(piece, response))->capacity == 0.9);
}

TEST_CASE("a use that asks for no flat top sets no limit, but a stated one holds", "[checks]") {
    Piece piece = oak_top();
    piece.limits.need_not_be_flat = true;
    const Response response = bent(Stage::at_once, 5);
    CHECK_FALSE(judge_flatness(input_of(piece, response)));
    piece.limits.flatness = 1.5;
    CHECK(judge_flatness(input_of(piece, response))->capacity == 1.5);
}

TEST_CASE("what only passes is not held against a straightedge", "[checks]") {
    const Piece piece = oak_top();
    const Response response = bent(Stage::passing, 5);
    CHECK_FALSE(judge_flatness(input_of(piece, response)));
    CHECK_FALSE(judge_flatness_years(input_of(piece, response)));
}

TEST_CASE("of what decides the band is told, and little to spare where it reaches past the limit",
          "[checks]") {
    // 0.7 of 1 mm, 1 % computed: 0.7 x 0.99 / 1.2 = 0.5775 to 0.7 x 1.01 / 0.8 = 0.884; of 0.9 mm to 1.136
    const Piece piece = oak_top();
    const auto judged = [&](double flatness) {
        Result result;
        result.passes = true;
        result.governing_check = "flatness";
        result.governing_situation = "books";
        result.governing_utilisation = flatness;
        result.checks.push_back({.check = "flatness",
                                 .situation = "books",
                                 .demand = flatness,
                                 .capacity = 1,
                                 .unit = "mm",
                                 .utilisation = flatness,
                                 .margin = 1 / flatness - 1,
                                 .at = {},
                                 .basis = {},
                                 .advice = false,
                                 .remedy = {},
                                 .error_percent = 1});
        find_band(piece, result);
        return result;
    };
    const Result spare = judged(0.7), little = judged(0.9);
    CHECK_THAT(spare.governing_band[0], WithinRel(0.5775, 1e-9));
    CHECK_THAT(spare.governing_band[1], WithinRel(0.88375, 1e-9));
    CHECK(spare.to_spare);
    CHECK_THAT(little.governing_band[1], WithinRel(1.13625, 1e-9));
    CHECK_FALSE(little.to_spare);
    Piece measured = piece;
    measured.top.measured.E_along = 12000;
    Result known = little;
    find_band(measured, known);
    CHECK_THAT(known.governing_band[1], WithinRel(0.9 * 1.01 / 0.95, 1e-9));
    CHECK(known.to_spare);
}

TEST_CASE("of a strength the band is the computing error alone", "[checks]") {
    Result result;
    result.passes = true;
    result.governing_check = "bending across the grain";
    result.governing_situation = "books";
    result.governing_utilisation = 0.95;
    result.checks.push_back({.check = "bending across the grain",
                             .situation = "books",
                             .demand = 0.95,
                             .capacity = 1,
                             .unit = "MPa",
                             .utilisation = 0.95,
                             .margin = 0.05,
                             .at = {},
                             .basis = {},
                             .advice = false,
                             .remedy = {},
                             .error_percent = 3});
    find_band(oak_top(), result);
    CHECK_THAT(result.governing_band[1], WithinRel(0.95 * 1.03, 1e-9));
    CHECK(result.to_spare);
}
