// SPDX-License-Identifier: MIT
#include "solver/variants/edits.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;

namespace {

constexpr double rounding = 1e-9; // mm, of a few additions

Stiffener bar(const std::string& name, Point from, Point to) {
    Stiffener stiffener;
    stiffener.name = name;
    stiffener.section = "angle 30x30x3";
    stiffener.metal = "S235";
    stiffener.from = from;
    stiffener.to = to;
    stiffener.screws = {
        .diameter = 4.5, .length = 18, .spacing = 150, .at = {}, .holes = Holes::slotted, .stiffness = {}};
    return stiffener;
}

/// 1000 x 500, 40 thick; a recess with a rim of 100 at the ends and 50 along the sides, a bar along x in it.
Piece tray() {
    Piece piece;
    piece.top.length = 1000;
    piece.top.width = 500;
    piece.top.thickness = 40;
    piece.top.outline = RectangleShape{.box = {0, 1000, 0, 500}};
    piece.recesses.push_back({.name = "well",
                              .shape = RectangleShape{.box = {100, 900, 50, 450}, .corner_radius = 10},
                              .depth = 20,
                              .root_radius = 0,
                              .lands = {}});
    piece.stiffeners.push_back(bar("front", {120, 150}, {880, 150}));
    piece.supports.push_back(
        {.name = "left",
         .kind = Pad{.at = {60, 70}, .size_x = 50, .size_y = 50, .hold_down = false, .stiffness = {}}});
    piece.supports.push_back(
        {.name = "middle",
         .kind = Pad{.at = {500, 250}, .size_x = 50, .size_y = 50, .hold_down = false, .stiffness = {}}});
    piece.supports.push_back(
        {.name = "right",
         .kind =
             Bearer{.from = {940, 60}, .to = {940, 440}, .width = 30, .hold_down = false, .stiffness = {}}});
    return piece;
}

Rectangle box_of(const Piece& piece) { return std::get<RectangleShape>(piece.recesses[0].shape).box; }

} // namespace

TEST_CASE("a skin is what the depth leaves of the thickness", "[solver]") {
    Piece piece = tray();
    set_skin(piece, "well", 13);
    CHECK_THAT(piece.recesses[0].depth, WithinAbs(27, rounding));
    set_depth(piece, "", 11);
    CHECK_THAT(piece.recesses[0].depth, WithinAbs(11, rounding));
    CHECK_THROWS_AS(set_depth(piece, "drawer", 11), Error);
}

TEST_CASE("a rim is the same all round, and a wider recess moves every wall outwards", "[solver]") {
    Piece piece = tray();
    widen(piece, "", 20);
    CHECK(box_of(piece) == Rectangle{80, 920, 30, 470});
    set_rim(piece, "well", 90);
    CHECK(box_of(piece) == Rectangle{90, 910, 90, 410});
    piece.recesses[0].shape = RimShape{.rim = 70, .corner_radius = 0};
    widen(piece, "well", 15);
    CHECK_THAT(std::get<RimShape>(piece.recesses[0].shape).rim, WithinAbs(55, rounding));
    piece.recesses[0].shape =
        PolygonShape{.points = {{100, 100}, {900, 100}, {500, 400}}, .corner_radius = 0};
    CHECK_THROWS_AS(set_rim(piece, "", 70), Error);
    CHECK_THROWS_AS(widen(piece, "", 5), Error);
}

TEST_CASE("any number of stiffeners cuts the recess into bays of one width, mirrored about the middle",
          "[solver]") {
    Piece piece = tray();
    set_number(piece, 3);
    REQUIRE(piece.stiffeners.size() == 3);
    for (int i = 0; i < 3; ++i)
        CHECK_THAT(piece.stiffeners[static_cast<std::size_t>(i)].from.y,
                   WithinAbs(50 + 100.0 * (i + 1), rounding)); // 400 mm in four
    CHECK(piece.stiffeners[0].from.x < piece.stiffeners[0].to.x);
    CHECK(piece.stiffeners[1].from.x < piece.stiffeners[1].to.x);
    CHECK(piece.stiffeners[2].from.x > piece.stiffeners[2].to.x);
    Piece one = tray();
    set_number(one, 1);
    CHECK_THAT(one.stiffeners[0].from.y, WithinAbs(250, rounding));
    set_number(one, 0);
    CHECK(one.stiffeners.empty());
    set_number(one, 2); // none is left to be copied: a usual angle
    REQUIRE(one.stiffeners.size() == 2);
    CHECK(one.stiffeners[0].section == "angle 30x30x3");
    CHECK_THAT(one.stiffeners[0].from.y, WithinAbs(50 + 400.0 / 3, rounding));
    CHECK_THAT(one.stiffeners[1].from.y, WithinAbs(50 + 800.0 / 3, rounding));
    Piece thin = tray();
    thin.stiffeners.clear();
    thin.recesses.front().depth = thin.top.thickness - 10; // 4 diameters of the thinnest screw are 12 mm
    CHECK_THROWS_AS(set_number(thin, 1), Error);
}

TEST_CASE("a bar under the rim is copied across the whole top", "[solver]") {
    Piece piece = tray();
    piece.stiffeners[0] = bar("cross", {50, 20}, {50, 480});
    set_number(piece, 4);
    for (int i = 0; i < 4; ++i)
        CHECK_THAT(piece.stiffeners[static_cast<std::size_t>(i)].to.x,
                   WithinAbs(200.0 * (i + 1), rounding)); // 1000 mm in five
}

TEST_CASE("one stiffener is placed by its line, several by the outermost two", "[solver]") {
    Piece piece = tray();
    set_place(piece, "", 200);
    CHECK_THAT(piece.stiffeners[0].to.y, WithinAbs(200, rounding));
    set_number(piece, 3);
    set_place(piece, "", 80);
    CHECK_THAT(piece.stiffeners[0].from.y, WithinAbs(80, rounding));
    CHECK_THAT(piece.stiffeners[1].from.y, WithinAbs(250, rounding));
    CHECK_THAT(piece.stiffeners[2].from.y, WithinAbs(420, rounding));
    set_place(piece, "stiffener 2", 300);
    CHECK_THAT(piece.stiffeners[1].from.y, WithinAbs(300, rounding));
    piece.stiffeners[0].to.y += 5;
    CHECK_THROWS_AS(set_place(piece, "", 90), Error);
}

TEST_CASE("supports in the outer thirds move to their edge, those in the middle stay", "[solver]") {
    Piece piece = tray();
    set_supports(piece, Way::both, 100);
    CHECK(std::get<Pad>(piece.supports[0].kind).at == Point{100, 100});
    CHECK(std::get<Pad>(piece.supports[1].kind).at == Point{500, 250});
    CHECK(std::get<Bearer>(piece.supports[2].kind).from == Point{900, 100});
    CHECK(std::get<Bearer>(piece.supports[2].kind).to == Point{900, 400});
    set_supports(piece, Way::x, 40);
    CHECK(std::get<Pad>(piece.supports[0].kind).at == Point{40, 100});
}

TEST_CASE("section, metal and screws are set on the one that is named, or on all", "[solver]") {
    Piece piece = tray();
    piece.stiffeners.push_back(bar("back", {120, 350}, {880, 350}));
    set_section(piece, "back", "flat 40x5");
    set_metal(piece, "", "6060-T6");
    set_spacing(piece, "front", 90);
    set_holes(piece, "", Holes::round);
    set_screw(piece, "back", 5, 20);
    CHECK(piece.stiffeners[0].section == "angle 30x30x3");
    CHECK(piece.stiffeners[1].section == "flat 40x5");
    CHECK(piece.stiffeners[0].metal == "6060-T6");
    CHECK(piece.stiffeners[0].screws.spacing == 90);
    CHECK(piece.stiffeners[1].screws.spacing == 150);
    CHECK(piece.stiffeners[1].screws.holes == Holes::round);
    CHECK(piece.stiffeners[1].screws.length == 20);
    CHECK(piece.stiffeners[0].screws.length == 18);
    CHECK_THROWS_AS(set_section(piece, "middle", "flat 40x5"), Error);
}
