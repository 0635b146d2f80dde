// SPDX-License-Identifier: MIT
#include "tests/solver/checks_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace hollowtop;
using Catch::WithinRel;

// Quarter-sawn clear white oak under a long load: bending 105 (1 - 1.645 x 0.16) / 2.3 = 33.64 MPa, tension across
// 5.5 (1 - 1.645 x 0.25) / 2.3 = 1.408 MPa, compression across 7.4 / 1.67 = 4.431 MPa (Wood Handbook Tables 5-3a and 5-6,
// ASTM D245 Table 8).

TEST_CASE("bending along the grain takes the greater face, either sign", "[checks]") {
    SituationResponse loaded = situation("books", Stage::at_once, Duration::long_term);
    loaded.stress = even_field({-12, 0, 0}, {9, 0, 0});
    const Piece piece = oak_top();
    const Response response = response_of(loaded);
    const auto row = judge_bending_along(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->demand == 12);
    CHECK_THAT(row->capacity, WithinRel(105 * (1 - 1.645 * 0.16) / 2.3, 1e-12));
    CHECK(row->unit == "MPa");
    CHECK(row->basis.find("at the top face; bending along the grain: mean 105 MPa") == 0);
}

TEST_CASE("across the grain the weak tension governs over a greater compression", "[checks]") {
    SituationResponse loaded = situation("books", Stage::at_once, Duration::long_term);
    loaded.stress = even_field({0, -2, 0}, {0, 1, 0}); // 2 / 4.431 = 0.45 against 1 / 1.408 = 0.71
    const Piece piece = oak_top();
    const Response response = response_of(loaded);
    const auto row = judge_bending_across(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->demand == 1);
    CHECK_THAT(row->capacity, WithinRel(5.5 * (1 - 1.645 * 0.25) / 2.3, 1e-12));
    CHECK(row->basis.find("tension governs, at the underside; tension across the grain") == 0);
}

TEST_CASE("across the grain a far greater compression governs", "[checks]") {
    SituationResponse loaded = situation("books", Stage::at_once, Duration::long_term);
    loaded.stress = even_field({0, -4, 0}, {0, 0.5, 0}); // 4 / 4.431 = 0.90 against 0.5 / 1.408 = 0.36
    const Piece piece = oak_top();
    const Response response = response_of(loaded);
    const auto row = judge_bending_across(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->demand == 4);
    CHECK_THAT(row->capacity, WithinRel(7.4 / 1.67, 1e-12));
    CHECK(row->basis.find("compression governs, at the top face; compression across the grain") == 0);
}

TEST_CASE("the place of the greatest stress is found between the places of the survey", "[checks]") {
    SituationResponse loaded = situation("books", Stage::at_once, Duration::long_term);
    // A hill 1 MPa high at (437, 211).
    loaded.stress = field_of([](Point p) {
        const double r2 = (p.x - 437) * (p.x - 437) + (p.y - 211) * (p.y - 211);
        return StressSample{
            .at = p, .thickness = 12, .top = {}, .bottom = {0, 1 / (1 + r2 / 2500), 0}, .shear = {}};
    });
    const Piece piece = oak_top();
    const Response response = response_of(loaded);
    const auto row = judge_bending_across(input_of(piece, response));
    REQUIRE(row);
    REQUIRE(row->at);
    CHECK(std::abs(row->at->x - 437) <= 1); // the search stops at about a millimetre
    CHECK(std::abs(row->at->y - 211) <= 1);
    CHECK(row->demand > 0.999);
}

TEST_CASE("a shorter load leaves more strength", "[checks]") {
    SituationResponse loaded = situation("leaning", Stage::passing, Duration::short_term);
    loaded.stress = even_field({12, 0, 0}, {});
    const Piece piece = oak_top();
    const Response response = response_of(loaded);
    CHECK_THAT(judge_bending_along(input_of(piece, response))->capacity,
               WithinRel(1.25 * 105 * (1 - 1.645 * 0.16) / 2.3, 1e-12));
}
