// SPDX-License-Identifier: MIT
#include "solver/variants/season_edits.hpp"

#include "materials/error.hpp"
#include "solver/piece/groove.hpp"

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

TEST_CASE("slots get the length asked for, whatever the holes were, and only where the name says",
          "[solver]") {
    Piece piece;
    piece.stiffeners.resize(2);
    piece.stiffeners[0].name = "front";
    piece.stiffeners[1].name = "back";
    for (Stiffener& bar : piece.stiffeners) bar.screws.holes = Holes::round;
    set_slot_length(piece, "back", 14);
    CHECK(piece.stiffeners[0].screws.holes == Holes::round);
    CHECK_FALSE(piece.stiffeners[0].screws.slot_length);
    CHECK(piece.stiffeners[1].screws.holes == Holes::slotted);
    CHECK(piece.stiffeners[1].screws.slot_length == 14);
    CHECK_THROWS_AS(set_slot_length(piece, "side", 14), Error);
}

TEST_CASE("a groove is made deeper, and a bar that lies in none is refused", "[solver]") {
    Piece piece;
    piece.stiffeners.resize(2);
    piece.stiffeners[0].name = "front";
    piece.stiffeners[1].name = "back";
    CHECK_THROWS_AS(set_groove(piece, "", 9), Error);
    piece.stiffeners[1].screws.holes = Holes::dovetail;
    piece.recesses.resize(2);
    piece.recesses[0].name = "well";
    piece.recesses[0].depth = 20;
    piece.recesses[1].name = groove_of(piece.stiffeners[1]);
    piece.recesses[1].depth = 8;
    set_groove(piece, "", 9);
    CHECK(piece.recesses[0].depth == 20);
    CHECK(piece.recesses[1].depth == 9);
    CHECK_THROWS_AS(set_groove(piece, "front", 9), Error);
}

TEST_CASE("breadboard ends that are drawn get another width, or go", "[solver]") {
    Piece piece;
    CHECK_THROWS_AS(set_ends(piece, 80), Error);
    piece.ends = Ends{.width = 90, .tongue = 30, .wood = "oak_white"};
    set_ends(piece, 80);
    CHECK(piece.ends->width == 80);
    CHECK(piece.ends->tongue == 30);
    set_ends(piece, 0);
    CHECK_FALSE(piece.ends);
}
