// SPDX-License-Identifier: MIT
// What was hardly meant is asked back, and what is ordinary is not.
#include "solver/piece/plausible.hpp"

#include "solver/check/check_piece.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;

namespace {

/// An ordinary table of 1000 x 600 x 30.
Piece table() {
    Piece piece = invented_top();
    piece.top.moisture_percent = 9;
    piece.loads = {spread(0.001)};
    return piece;
}

std::string doubts_in(const Piece& piece) {
    std::string all;
    for (const Message& doubt : doubts_of(piece)) all += in_own_units(doubt) + '\n';
    return all;
}

bool speaks_of(const Piece& piece, const std::string& words) {
    INFO(doubts_in(piece));
    CHECK(doubts_of(piece).size() == 1);
    return doubts_in(piece).find(words) != std::string::npos;
}

} // namespace

TEST_CASE("an ordinary piece is asked nothing", "[solver][plausible]") {
    CHECK(doubts_in(table()) == "");
    Piece used = table();
    used.loads.clear();
    used.use = "dining";
    CHECK(doubts_in(used) == "");
}

TEST_CASE("sizes that no table has are asked back", "[solver][plausible]") {
    Piece small = table();
    small.top.length = 100; // centimetres, written as millimetres
    small.top.width = 60;
    CHECK(speaks_of(small, "centimetres or inches"));
    Piece thin = table();
    thin.top.thickness = 3;
    CHECK(speaks_of(thin, "3 mm thick"));
    Piece long_one = table();
    long_one.top.length = 18000;
    CHECK(speaks_of(long_one, "a digit too many"));
    Piece board = table(); // a thick bench is no slip
    board.top.thickness = 120;
    CHECK(doubts_in(board) == "");
}

TEST_CASE("a top of many tons, or of no wood's density, is asked back", "[solver][plausible]") {
    Piece heavy = table();
    heavy.top.elastic->density_kg_m3 = 650;
    heavy.top.length = heavy.top.width = 7000;
    heavy.top.thickness = 100; // 3.2 t
    CHECK(speaks_of(heavy, "The top weighs 3185 kg"));
    Piece dense = table();
    dense.top.elastic->density_kg_m3 = 7850;
    CHECK(speaks_of(dense, "that of no wood"));
    dense.top.elastic->density_kg_m3 = 0.65;
    CHECK(speaks_of(dense, "that of no wood"));
    Piece long_table = table(); // a table for twenty
    long_table.top.elastic->density_kg_m3 = 700;
    long_table.top.length = 6000;
    long_table.top.width = 1300;
    long_table.top.thickness = 60;
    CHECK(doubts_in(long_table) == "");
}

TEST_CASE("a moisture given as a share is asked back", "[solver][plausible]") {
    Piece piece = table();
    piece.top.moisture_percent = 0.08;
    CHECK(speaks_of(piece, "was 8 percent meant?"));
    piece.top.moisture_percent = 4;
    CHECK(doubts_in(piece) == "");
}

TEST_CASE("a person as light as a kettle, and a load as heavy as a lorry, are asked back",
          "[solver][plausible]") {
    Piece piece = table();
    piece.loads = {patch_of(80, {500, 300}, 100, 100)};
    CHECK(doubts_in(piece) == ""); // a kettle
    piece.loads[0].name = "someone leans";
    CHECK(speaks_of(piece, "a weight in kilograms or pounds"));
    piece.loads[0] = patch_of(4.4e6, {500, 300}, 100, 100);
    CHECK(speaks_of(piece, "a digit too many"));
    piece.loads = {spread(0.5)};
    CHECK(speaks_of(piece, "more than any floor bears"));
}

TEST_CASE("a piece without a load is told that its weight alone was judged", "[solver][plausible]") {
    Piece piece = table();
    piece.loads.clear();
    CHECK(speaks_of(piece, "only its own weight was judged"));
}

TEST_CASE("a sag greater than the thickness is told as beyond the theory", "[solver][plausible]") {
    Piece piece = table();
    piece.top.thickness = 12;
    piece.supports = {edge({0, 0}, {0, 600}, true), edge({1000, 0}, {1000, 600}, true)};
    CheckOptions options;
    options.mesh = CheckOptions::Mesh::coarse;
    const auto warns = [&](double pressure) {
        piece.loads = {spread(pressure)};
        const Result result = check_piece(piece, options).result;
        const double sag = result.situations.front().sag_mm;
        const bool warned = std::any_of(result.warnings.begin(), result.warnings.end(), [](const Message& w) {
            return in_own_units(w).find("more than it is thick") != std::string::npos;
        });
        CHECK(warned == (sag > 12));
        return warned;
    };
    // 5 q L^4 / (32 E h^3) of a strip: 8.2 mm under 1 kPa, 16.4 mm under 2
    CHECK_FALSE(warns(0.001));
    CHECK(warns(0.002));
}
