// SPDX-License-Identifier: MIT
#include "solver/variants/row.hpp"

#include "solver/checks/checks.hpp"

#include <catch2/catch.hpp>

#include <array>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

TEST_CASE("a row has the greatest sag at once, apart from the one after the years", "[solver]") {
    Result result;
    result.situations.resize(3);
    const std::array<Stage, 3> stages{Stage::at_once, Stage::years, Stage::passing};
    const std::array<double, 3> sags{1, 5, 3};
    for (std::size_t i = 0; i < 3; ++i) {
        result.situations[i].stage = stages[i];
        result.situations[i].sag_mm = sags[i];
    }
    result.situations[1].dish_mm = 0.4;
    for (const double use : {0.25, 0.5}) {
        result.checks.emplace_back();
        result.checks.back().check = "dish";
        result.checks.back().utilisation = use;
    }
    result.frequency_Hz = {12, 20};
    const StudyRow row = row_of({}, result, {});
    CHECK(row.sag_mm == 3);
    CHECK(row.sag_years_mm == 5);
    CHECK(row.dish_mm == 0.4);
    CHECK(row.frequency_Hz == 12);
    CHECK_FALSE(row.cost);
    const auto table = table_of_checks();
    REQUIRE(row.uses.size() == table.size());
    for (std::size_t i = 0; i < table.size(); ++i)
        CHECK(row.uses[i] == (std::string(table[i].name) == "dish" ? 0.5 : -1.0));
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
