// SPDX-License-Identifier: MIT
#include "materials/error.hpp"
#include "solver/capacity/limits.hpp"
#include "tests/solver/checks_for_tests.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using Catch::WithinRel;

TEST_CASE("sag at once is held against the span / 300", "[checks]") {
    const Piece piece = oak_top();
    SituationResponse books = situation("books", Stage::passing, Duration::short_term);
    books.sag_mm = 2.4;
    books.sag_at = {500, 300};
    const Response response = response_of(books);
    const auto row = judge_sag(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->demand == 2.4);
    CHECK_THAT(row->capacity, WithinRel(900.0 / 300, 1e-12)); // 3 mm
    CHECK(row->unit == "mm");
    CHECK(row->at == Point{500, 300});
    CHECK(in_own_units(row->basis).find("span of 900 mm / 300") == 0);
    CHECK_FALSE(judge_sag_years(input_of(piece, response)));
}

TEST_CASE("sag after the years has its own limit", "[checks]") {
    const Piece piece = oak_top();
    SituationResponse standing = situation("standing, after the years", Stage::years, Duration::permanent);
    standing.sag_mm = 3;
    const Response response = response_of(standing);
    CHECK_FALSE(judge_sag(input_of(piece, response)));
    const auto row = judge_sag_years(input_of(piece, response));
    REQUIRE(row);
    CHECK_THAT(row->capacity, WithinRel(900.0 / 250, 1e-12)); // 3.6 mm
}

TEST_CASE("past the supports the limit is the overhang / 150, where that is greater", "[checks]") {
    // 500/300 = 1.67 mm, 450/150 = 3 mm
    const Piece piece = oak_top();
    SituationResponse leaning = situation("leaning", Stage::passing, Duration::short_term);
    leaning.span = {.span_mm = 500, .overhang_mm = 450};
    const SagLimit past = sag_limit(piece, leaning);
    CHECK_THAT(past.limit_mm, WithinRel(3.0, 1e-12));
    CHECK(past.overhang_governs);
    CHECK(past.span_mm == 900);
    CHECK(in_own_units(past.basis).find("overhang of 450 mm past the supports / 150") == 0);
    // The same sag between the supports has the limit of the span.
    leaning.span.overhang_mm = 0;
    const SagLimit between = sag_limit(piece, leaning);
    CHECK_THAT(between.limit_mm, WithinRel(500.0 / 300, 1e-12));
    CHECK_FALSE(between.overhang_governs);
    // A short overhang never lowers the limit.
    leaning.span = {.span_mm = 900, .overhang_mm = 50};
    CHECK_THAT(sag_limit(piece, leaning).limit_mm, WithinRel(3.0, 1e-12));
}

TEST_CASE("a limit given as a length is that length", "[checks]") {
    Piece piece = oak_top();
    piece.limits.sag = {.is_share_of_span = false, .length = 1.5};
    const Response response = response_of(situation("books", Stage::at_once, Duration::permanent));
    CHECK(sag_limit(piece, response.situations[0]).limit_mm == 1.5);
}

TEST_CASE("a share of no span is refused", "[checks]") {
    Response response = response_of(situation("books", Stage::at_once, Duration::permanent));
    response.situations[0].span = {};
    CHECK_THROWS_AS(sag_limit(oak_top(), response.situations[0]), Error);
}

TEST_CASE("the box of the supports holds pads and the ends of lines", "[checks]") {
    Piece piece;
    CHECK_FALSE(box_of_supports(piece));
    piece.supports.push_back({"bearer 1", Bearer{.from = {300, 60}, .to = {300, 790}, .stiffness = {}}});
    piece.supports.push_back({"pad 1", Pad{.at = {1500, 400}, .stiffness = {}}});
    CHECK(box_of_supports(piece) == Rectangle{300, 1500, 60, 790});
}
