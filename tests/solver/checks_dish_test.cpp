// SPDX-License-Identifier: MIT
#include "tests/solver/checks_for_tests.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;

namespace {

SituationResponse dished(double dish_mm, double skin_mm) {
    SituationResponse one = situation("a hand", Stage::passing, Duration::short_term);
    one.dish_mm = dish_mm;
    one.dish_at = {500, 300};
    one.dish_skin_mm = skin_mm;
    return one;
}

} // namespace

TEST_CASE("dish is held against half the skin, and under what stays against a limit that is stated",
          "[checks]") {
    Piece piece = oak_top();
    Response response = response_of(dished(0.3, 12));
    const auto alone = judge_dish(input_of(piece, response));
    REQUIRE(alone);
    CHECK(alone->demand == 0.3);
    CHECK(alone->capacity == 6);
    CHECK(alone->at == Point{500, 300});
    CHECK(in_own_units(alone->basis).find("half the skin of 12 mm") == 0);
    piece.limits.dish = {.length = 0.5, .is_stated = true};
    CHECK(judge_dish(input_of(piece, response))->capacity == 6); // a hand passes
    response.situations[0].stage = Stage::at_once;
    const auto stated = judge_dish(input_of(piece, response));
    REQUIRE(stated);
    CHECK(stated->capacity == 0.5);
    CHECK(stated->basis == "the length given as limits.dish");
}

TEST_CASE("a top without a recess has no dish", "[checks]") {
    const Response response = response_of(situation("a hand", Stage::passing, Duration::short_term));
    const Piece piece = oak_top();
    CHECK_FALSE(judge_dish(input_of(piece, response)));
}

TEST_CASE("a limit above half the skin is cut down to half the skin", "[checks]") {
    Piece piece = oak_top();
    piece.limits.dish = {.length = 5, .is_stated = true};
    Response response = response_of(dished(1, 6));
    response.situations[0].stage = Stage::years;
    const auto row = judge_dish(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->capacity == 3);
    CHECK(in_own_units(row->basis).find("half the skin of 6 mm") == 0);
}

TEST_CASE(
    "a skin that dishes by more than half its thickness fails, warns, and gives no margin of its stresses",
    "[checks]") {
    Piece piece = oak_top();
    piece.limits.dish = {.length = 100, .is_stated = true}; // as much as the maker likes
    SituationResponse soft = dished(3.5, 6);
    // 1 MPa everywhere, far below every allowable; the recess is 6 mm thick, the rim 30.
    soft.stress = field_of([](Point p) {
        const bool in_recess = p.x > 200 && p.x < 800;
        return StressSample{.at = p,
                            .thickness = in_recess ? 6.0 : 30.0,
                            .top = {in_recess ? 1.0 : 0.5, 0.1, 0},
                            .bottom = {},
                            .shear = {}};
    });
    Result result;
    judge(piece, response_of(soft), result);
    CHECK_FALSE(result.passes);
    CHECK(result.governing_check == "dish");
    REQUIRE(result.warnings.size() == 1);
    CHECK(
        in_own_units(result.warnings[0]) ==
        "a hand: the skin dishes by 3.5 mm, more than half its 6 mm; the theory of small movements no longer "
        "holds there, and no margin of a stress in that recess is given");
    for (const CheckResult& row : result.checks) CHECK(row.check != "bending along the grain");
}

TEST_CASE("a stress that fails in a skin that dishes too far stays, and is called a rough number",
          "[checks]") {
    SituationResponse soft = dished(3.5, 12);
    soft.dish_skin_mm = 6;
    soft.stress = field_of([](Point p) {
        return StressSample{.at = p, .thickness = 6, .top = {100, 0, 0}, .bottom = {}, .shear = {}};
    });
    Result result;
    judge(oak_top(), response_of(soft), result);
    bool is_there = false;
    for (const CheckResult& row : result.checks)
        if (row.check == "bending along the grain") {
            is_there = true;
            CHECK(row.utilisation > 1);
            CHECK(row.margin < 0);
            CHECK(in_own_units(row.remedy).find("the skin dishes by more than half its thickness") == 0);
        }
    CHECK(is_there);
}
