// SPDX-License-Identifier: MIT
// What makers know (common practice), asked of the whole calculation.
#include "solver/check/check_piece.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>
#include <vector>

using namespace hollowtop;

namespace {

/// An oak top on two bearers, loaded evenly; invented.
Piece oak_top(std::vector<Recess> recesses) {
    Piece piece;
    piece.title = "oak top";
    piece.top.length = 1200;
    piece.top.width = 700;
    piece.top.thickness = 36;
    piece.top.wood = "white oak";
    piece.top.outline = RectangleShape{.box = {0, 1200, 0, 700}};
    piece.recesses = std::move(recesses);
    for (const double x :
         {60.0, 1140.0}) // along the ends, so that the skin and not the ends' rims bends across the grain
        piece.supports.push_back(
            {.name = "bearer",
             .kind =
                 Bearer{.from = {x, 30}, .to = {x, 670}, .width = 40, .hold_down = false, .stiffness = {}}});
    piece.loads.push_back(
        {.name = "books", .duration = Duration::short_term, .kind = AreaLoad{.pressure = 0.002, .over = {}}});
    return piece;
}

Recess recess(const std::string& name, Rectangle box, double skin) {
    return {
        .name = name, .shape = RectangleShape{.box = box}, .depth = 36 - skin, .root_radius = 0, .lands = {}};
}

const Rectangle left{100, 600, 100, 600}, right{600, 1100, 100, 600}, whole{100, 1100, 100, 600};

const SituationResult& under_books(const Result& result) {
    const auto found = std::find_if(result.situations.begin(), result.situations.end(),
                                    [](const SituationResult& s) { return s.name == "books"; });
    REQUIRE(found != result.situations.end());
    return *found;
}

const CheckResult& check_of(const Result& result, const std::string& name) {
    const auto found = std::find_if(result.checks.begin(), result.checks.end(), [&](const CheckResult& row) {
        return row.check == name && row.situation == "books";
    });
    REQUIRE(found != result.checks.end());
    return *found;
}

} // namespace

TEST_CASE("a skin left uneven by a slipping stop is judged by its thin place", "[validation][trade]") {
    // common practice: a router's stop slips by some tenths of a millimetre to a millimetre; here by 3 mm, to
    // be seen
    const Result even = check_piece(oak_top({recess("well", whole, 13)})).result;
    const Result thin = check_piece(oak_top({recess("well", whole, 10)})).result;
    const Result slipped =
        check_piece(oak_top({recess("left", left, 13), recess("right", right, 10)})).result;

    const SituationResult &nominal = under_books(even), &uneven = under_books(slipped),
                          &worst = under_books(thin);
    REQUIRE(nominal.dish_mm);
    REQUIRE(uneven.dish_mm);
    REQUIRE(worst.dish_mm);
    CHECK(uneven.sag_mm > nominal.sag_mm);
    CHECK(uneven.sag_mm < worst.sag_mm);
    CHECK(*uneven.dish_mm > *nominal.dish_mm);
    CHECK(uneven.dish_at.x > right.x0); // the skin sinks most where it is thin
    CHECK(slipped.mass.top_kg < even.mass.top_kg);

    const CheckResult& across = check_of(slipped, "bending across the grain");
    REQUIRE(across.at);
    INFO(across.at->x << ", " << across.at->y << ": " << across.utilisation);
    CHECK(across.at->x >= right.x0); // at or in the thin place
    CHECK(across.utilisation > check_of(even, "bending across the grain").utilisation);
}

TEST_CASE("the thin place of an uneven skin is not lost in a mean", "[validation][trade]") {
    // a strip of 100 mm that the slipping stop cut 3 mm too deep, in the middle of an even skin
    const Rectangle before{100, 550, 100, 600}, strip{550, 650, 100, 600}, after{650, 1100, 100, 600};
    const Result slipped = check_piece(oak_top({recess("before", before, 13), recess("strip", strip, 10),
                                                recess("after", after, 13)}))
                               .result;
    const Result even = check_piece(oak_top({recess("well", whole, 13)})).result;
    // "stresses together" cannot be compared: what a place bears in tension there goes with the volume that
    // is pulled in the whole top
    for (const char* name : {"bending along the grain", "bending across the grain", "stress at the wall"}) {
        const CheckResult& row = check_of(slipped, name);
        REQUIRE(row.at);
        CAPTURE(name, row.at->x, row.at->y, row.utilisation);
        CHECK(row.at->x >= strip.x0);
        CHECK(row.at->x <= strip.x1);
        CHECK(row.utilisation > check_of(even, name).utilisation);
    }
    CHECK(under_books(slipped).sag_mm > under_books(even).sag_mm);
}

TEST_CASE("a rim left at full thickness carries a hollowed top like a frame", "[validation][trade]") {
    // common practice: the rim, not the skin, keeps the top stiff along its edge; without it the same skin is
    // a thin board
    const Result framed = check_piece(oak_top({recess("well", whole, 13)})).result;
    Piece board = oak_top({});
    board.top.thickness = 13;
    const Result thin = check_piece(board).result;
    CHECK(under_books(framed).sag_mm < under_books(thin).sag_mm / 4);
}
