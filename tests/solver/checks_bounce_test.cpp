// SPDX-License-Identifier: MIT
#include "tests/solver/checks_for_tests.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;

TEST_CASE("a top without a frequency limit gets advice only", "[checks]") {
    Piece piece = oak_top();
    Response response = response_of(situation("books", Stage::at_once, Duration::permanent));
    response.frequency_Hz = {6, 15};
    Result result;
    judge(piece, response, result);
    bool is_there = false;
    for (const CheckResult& row : result.checks)
        if (row.check == "first bounce") {
            is_there = true;
            CHECK(row.advice);
            CHECK(row.demand == 8); // EN 1995-1-1 7.3.3
            CHECK(row.capacity == 6);
            CHECK(row.unit == "Hz");
            CHECK(row.utilisation > 1);
        }
    CHECK(is_there);
    CHECK(result.passes);
    CHECK(result.governing_check != "first bounce");
}

TEST_CASE("a stated frequency fails the piece that bounces slower", "[checks]") {
    Piece piece = oak_top();
    piece.limits.frequency_Hz = 12;
    Response response = response_of(situation("books", Stage::at_once, Duration::permanent));
    response.frequency_Hz = {10};
    Result result;
    judge(piece, response, result);
    CHECK_FALSE(result.passes);
    CHECK(result.governing_check == "first bounce");
    CHECK_THAT(result.governing_utilisation, Catch::WithinRel(1.2, 1e-12));
}

TEST_CASE("a top bounces in one way whatever stands on it", "[checks]") {
    Response response = response_of(situation("books", Stage::at_once, Duration::permanent));
    response.situations.push_back(situation("leaning", Stage::passing, Duration::short_term));
    response.frequency_Hz = {10};
    Result result;
    judge(oak_top(), response, result);
    int n_rows = 0;
    for (const CheckResult& row : result.checks) n_rows += row.check == "first bounce";
    CHECK(n_rows == 1);
}
