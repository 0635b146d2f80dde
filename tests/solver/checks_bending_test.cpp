// SPDX-License-Identifier: MIT
#include "tests/solver/checks_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace hollowtop;
using Catch::WithinRel;

// Quarter-sawn clear white oak under a long load: bending 105 (1 - 1.645 x 0.16) / 2.3 = 33.64 MPa, tension
// across 5.5 (1 - 1.645 x 0.25) / 2.3 = 1.408 MPa, compression across 7.4 / 1.67 = 4.431 MPa (Wood Handbook
// Tables 5-3a and 5-6,
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
    CHECK(in_own_units(row->basis).find("at the top face; bending along the grain: mean 105 MPa") == 0);
}

namespace {

/// A situation that takes so much even tension on 81 cm3 as that, where a face bears `peak`.
TensionAcross tension_of(double effective, double peak, double thickness = 12) {
    return {.norm = effective * std::pow(81000.0, 0.2),
            .exponent = 5,
            .at = {437, 211},
            .thickness = thickness,
            .peak = peak};
}

} // namespace

TEST_CASE("across the grain the sum of the weak tension governs over a greater compression", "[checks]") {
    SituationResponse loaded = situation("books", Stage::at_once, Duration::long_term);
    loaded.stress = even_field({0, -2, 0}, {0, 1, 0}); // 2 / 4.431 = 0.45 against 0.7 / 1.408 = 0.50
    loaded.tension_across = tension_of(0.7, 1);
    const Piece piece = oak_top();
    const Response response = response_of(loaded);
    const auto row = judge_bending_across(input_of(piece, response));
    REQUIRE(row);
    CHECK_THAT(row->demand, WithinRel(0.7, 1e-12));
    CHECK_THAT(row->capacity, WithinRel(5.5 * (1 - 1.645 * 0.25) / 2.3, 1e-12));
    REQUIRE(row->at);
    CHECK(row->at->x == 437);
    CHECK(in_own_units(row->basis).find("tension governs: the even tension") == 0);
    CHECK(in_own_units(row->basis).find("a face bears 1 MPa; tension across the grain: mean 5.5 MPa") !=
          std::string::npos);
}

TEST_CASE("across the grain more tension than the wood bears fails", "[checks]") {
    SituationResponse loaded = situation("books", Stage::at_once, Duration::long_term);
    loaded.tension_across = tension_of(1.5, 2.1);
    const Piece piece = oak_top();
    const Response response = response_of(loaded);
    const auto row = judge_bending_across(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->demand > row->capacity);
}

TEST_CASE("across the grain a strength class bears its value on 10 dm3", "[checks][published]") {
    // f_t,90,k 0.6 MPa x 0.7 / 1.3; the even tension on 10 dm3 that is as hard: 0.7 x (81/10000)^0.2 = 0.2672
    SituationResponse loaded = situation("books", Stage::at_once, Duration::long_term);
    loaded.tension_across = tension_of(0.7, 1);
    Piece piece = oak_top();
    piece.allowables.basis = AllowablesBasis::strength_class;
    piece.allowables.strength_class = "D30";
    const Response response = response_of(loaded);
    const auto row = judge_bending_across(input_of(piece, response));
    REQUIRE(row);
    CHECK_THAT(row->demand, WithinRel(0.2672, 1e-3));
    CHECK_THAT(row->capacity, WithinRel(0.6 * 0.7 / 1.3, 1e-12));
}

TEST_CASE("across the grain a far greater compression governs", "[checks]") {
    SituationResponse loaded = situation("books", Stage::at_once, Duration::long_term);
    loaded.stress = even_field({0, -4, 0}, {0, 0.5, 0}); // 4 / 4.431 = 0.90 against 0.3 / 1.408 = 0.21
    loaded.tension_across = tension_of(0.3, 0.5);
    const Piece piece = oak_top();
    const Response response = response_of(loaded);
    const auto row = judge_bending_across(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->demand == 4);
    CHECK_THAT(row->capacity, WithinRel(7.4 / 1.67, 1e-12));
    CHECK(
        in_own_units(row->basis).find("compression governs, at the top face; compression across the grain") ==
        0);
}

TEST_CASE("the place of the greatest stress is found between the places of the survey", "[checks]") {
    SituationResponse loaded = situation("books", Stage::at_once, Duration::long_term);
    // A hill 1 MPa high at (437, 211).
    loaded.stress = field_of([](Point p) {
        const double r2 = (p.x - 437) * (p.x - 437) + (p.y - 211) * (p.y - 211);
        return StressSample{
            .at = p, .thickness = 12, .top = {}, .bottom = {0, -1 / (1 + r2 / 2500), 0}, .shear = {}};
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

TEST_CASE("the strength at a place is that of the whole top where it takes most, and of a bent cube at most",
          "[checks]") {
    const materials::AllowableStresses oak = *allowables_of(oak_top(), Duration::long_term);
    const double even = 5.5 * (1 - 1.645 * 0.25) / 2.3;
    CHECK_THAT(tension_strength_at_a_place(std::nullopt, oak), WithinRel(even, 1e-12));
    CHECK_THAT(tension_strength_at_a_place(tension_of(0.7, 1), oak), WithinRel(even / 0.7, 1e-12));
    CHECK_THAT(tension_strength_at_a_place(tension_of(2, 1), oak),
               WithinRel(even / 2, 1e-12)); // much wood, evenly pulled
    CHECK_THAT(tension_strength_at_a_place(tension_of(0, 0), oak), WithinRel(even, 1e-12)); // nothing pulls
    // a sharp peak at a point lends nothing to a mean: the greatest mean counts, but no more than the peak
    TensionAcross sharp = tension_of(0.7, 1);
    sharp.mean = 0.8;
    CHECK_THAT(tension_strength_at_a_place(sharp, oak), WithinRel(even * 0.8 / 0.7, 1e-12));
    sharp.mean = 1.2;
    CHECK_THAT(tension_strength_at_a_place(sharp, oak), WithinRel(even / 0.7, 1e-12));
    // a cube of 12 mm: 12^(1/5) (81000/1728)^0.2 = 1.6438 x 2.1583
    CHECK_THAT(tension_strength_at_a_place(tension_of(0.01, 1), oak),
               WithinRel(even * 1.6438 * 2.1583, 1e-3));
}

TEST_CASE("a shorter load leaves more strength", "[checks]") {
    SituationResponse loaded = situation("leaning", Stage::passing, Duration::short_term);
    loaded.stress = even_field({12, 0, 0}, {});
    const Piece piece = oak_top();
    const Response response = response_of(loaded);
    CHECK_THAT(judge_bending_along(input_of(piece, response))->capacity,
               WithinRel(1.25 * 105 * (1 - 1.645 * 0.16) / 2.3, 1e-12));
}
