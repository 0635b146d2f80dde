// SPDX-License-Identifier: MIT
#include "solver/checks/checks.hpp"
#include "solver/study/row.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

TEST_CASE("a row has the greatest sag at once, apart from the one after the years", "[solver]") {
    Result result;
    result.situations.resize(3);
    result.situations[0] = {.name = "now", .stage = Stage::at_once, .sag_mm = 1, .sag_limit_mm = 6};
    result.situations[1] = {.name = "years", .stage = Stage::years, .sag_mm = 5, .sag_limit_mm = 7};
    result.situations[2] = {.name = "sits", .stage = Stage::passing, .sag_mm = 3, .sag_limit_mm = 6};
    result.situations[1].dish_mm = 0.4;
    result.checks.push_back({.check = "dish", .situation = "now", .demand = 1, .capacity = 4, .unit = "mm", .utilisation = 0.25});
    result.checks.push_back({.check = "dish", .situation = "years", .demand = 2, .capacity = 4, .unit = "mm", .utilisation = 0.5});
    result.frequency_Hz = {12, 20};
    const StudyRow row = row_of({}, result, {});
    CHECK(row.sag_mm == 3);
    CHECK(row.sag_years_mm == 5);
    CHECK(row.dish_mm == 0.4);
    CHECK(row.frequency_Hz == 12);
    CHECK_FALSE(row.cost);
    const auto table = table_of_checks();
    REQUIRE(row.uses.size() == table.size());
    for (std::size_t i = 0; i < table.size(); ++i) CHECK(row.uses[i] == (std::string(table[i].name) == "dish" ? 0.5 : -1.0));
}

TEST_CASE("stiffeners cost by length, weight and screws", "[solver]") {
    Piece piece;
    piece.stiffeners.resize(2);
    piece.stiffeners[0].from = {0, 0};
    piece.stiffeners[0].to = {1500, 0};
    piece.stiffeners[1].from = {100, 50};
    piece.stiffeners[1].to = {100, 550};
    Result result;
    result.mass.stiffeners_kg = 3;
    result.screws.resize(12);
    const StudyRow row = row_of(piece, result, {.a_metre = 4, .a_kilo = 2.5, .a_screw = 0.1});
    REQUIRE(row.cost);
    CHECK_THAT(*row.cost, WithinRel(2 * 4 + 3 * 2.5 + 12 * 0.1, 1e-12)); // 2 m in all
}
