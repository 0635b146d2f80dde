// SPDX-License-Identifier: MIT
#include "solver/variants/season_edits.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;

TEST_CASE("boards are laid all one way or turn about, and keep their own piths", "[solver]") {
    Piece piece;
    for (const double pith : {40.0, 60.0, 80.0})
        piece.top.each_board.push_back({.width = 100, .rings = Rings{.pith = pith, .bark_up = pith == 60}});
    const auto bark = [&](std::size_t i) { return piece.top.each_board[i].rings->bark_up; };
    lay_boards(piece, Laid::alternating);
    CHECK((bark(0) && !bark(1) && bark(2)));
    lay_boards(piece, Laid::pith_up);
    CHECK((!bark(0) && !bark(1) && !bark(2)));
    lay_boards(piece, Laid::bark_up);
    CHECK((bark(0) && bark(1) && bark(2)));
    CHECK(piece.top.each_board[2].rings->pith == 80);
    piece.top.each_board[1].rings.reset();
    CHECK_THROWS_AS(lay_boards(piece, Laid::bark_up), Error);
    Piece unsaid;
    CHECK_THROWS_AS(lay_boards(unsaid, Laid::bark_up), Error);
}

TEST_CASE("a finish of all faces is that of both and of the recesses", "[solver]") {
    Piece piece;
    piece.top.finish.above = "film";
    set_finish(piece, "bare");
    CHECK(piece.top.finish == FaceFinishes{.above = "bare", .below = "bare", .recess = "bare"});
}
