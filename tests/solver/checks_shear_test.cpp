// SPDX-License-Identifier: MIT
#include "tests/solver/checks_for_tests.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using Catch::WithinRel;

// White oak, long load, clear: shear 13.8 (1 - 1.645 x 0.14) / 2.3 = 4.618 MPa (Wood Handbook Tables 5-3a,
// 5-6; ASTM D245).
namespace {
const double oak_shear = 13.8 * (1 - 1.645 * 0.14) / 2.3;

SituationResponse loaded(std::array<double, 3> top, std::array<double, 3> bottom,
                         std::array<double, 2> shear) {
    SituationResponse one = situation("books", Stage::at_once, Duration::long_term);
    one.stress = even_field(top, bottom, shear);
    return one;
}
} // namespace

TEST_CASE("shear through the thickness along the grain is held against the shear strength", "[checks]") {
    const Piece piece = oak_top();
    const Response response = response_of(loaded({}, {}, {-1.5, 0.2}));
    const auto row = judge_shear_through(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->demand == 1.5);
    CHECK_THAT(row->capacity, WithinRel(oak_shear, 1e-12));
}

TEST_CASE("shear through the thickness across the grain rolls the fibres and has 0.18 of the strength",
          "[checks]") {
    const Piece piece = oak_top();
    const Response response = response_of(loaded({}, {}, {-1.5, 0.2}));
    const auto row = judge_rolling_shear(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->demand == 0.2);
    CHECK_THAT(row->capacity, WithinRel(0.18 * oak_shear, 1e-12));
    CHECK(in_own_units(row->basis).find("shear across the grain, which rolls the fibres") == 0);
}

TEST_CASE("shear in the plane takes the greater face", "[checks]") {
    const Piece piece = oak_top();
    const Response response = response_of(loaded({0, 0, 0.7}, {0, 0, -0.9}, {}));
    const auto row = judge_shear_in_plane(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->demand == 0.9);
    CHECK_THAT(row->capacity, WithinRel(oak_shear, 1e-12));
    CHECK(in_own_units(row->basis).find("at the underside; shear along the grain") == 0);
}

TEST_CASE("a top in pure shear is governed by it", "[checks]") {
    const Response response = response_of(loaded({0, 0, 4}, {0, 0, -4}, {}));
    Result result;
    judge(oak_top(), response, result);
    CHECK(result.governing_check == "shear in the plane");
    CHECK_THAT(result.governing_utilisation, WithinRel(4 / oak_shear, 1e-12));
}
