// SPDX-License-Identifier: MIT
#include "cli/commands/added_bar.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace hollowtop;
using namespace hollowtop::cli;

namespace {

/// 1000 x 500 x 40 with a recess from 100 to 900 and 50 to 450.
Piece tray(Units units = Units::mm) {
    Piece piece;
    piece.units = units;
    piece.top.length = 1000;
    piece.top.width = 500;
    piece.top.thickness = 40;
    piece.recesses.push_back({.name = "well",
                              .shape = RectangleShape{.box = {100, 900, 50, 450}},
                              .depth = 20,
                              .root_radius = 0,
                              .lands = {}});
    return piece;
}

Stiffener added(const std::string& text, Units units = Units::mm) {
    Piece piece = tray(units);
    add_bar(piece, text);
    return piece.stiffeners.at(0);
}

std::string fault_of(const std::string& text) {
    try {
        added(text);
    } catch (const Error& error) {
        CHECK(in_own_units(error.faults().front().place) == "--add");
        return in_own_units(error.faults().front().what);
    }
    return "a stiffener";
}

} // namespace

TEST_CASE("a stiffener is added as it is typed", "[cli]") {
    const Stiffener angle = added("angle 30x30x3 at y=350 screws 4.5x15");
    CHECK(angle.section == "angle 30x30x3");
    CHECK(angle.metal == "S235");
    CHECK(angle.from == Point{125, 350}); // from wall to wall, 25 mm clear
    CHECK(angle.to == Point{875, 350});
    CHECK(angle.screws.diameter == 4.5);
    CHECK(angle.screws.length == 15);
    CHECK(angle.screws.spacing == 150);
    CHECK(angle.screws.holes == Holes::slotted);
    const Stiffener bar =
        added("bar 40x20 wood white ash at x=600 from 100 to 400 screws 5x35 every 120 holes round");
    CHECK(bar.wood == "ash_white");
    CHECK(bar.metal.empty());
    CHECK(bar.from == Point{600, 100});
    CHECK(bar.to == Point{600, 400});
    CHECK(bar.screws.spacing == 120);
    CHECK(bar.screws.holes == Holes::round);
    const Stiffener in_inches = added("flat 40x6 at y=10 screws 4.5x15", Units::inch);
    CHECK(in_inches.from.y == Approx(254));
}

TEST_CASE("what cannot be understood of an added stiffener is told", "[cli]") {
    for (const char* text :
         {"", "angle", "angle 30x30x3", "angle 30x30x3 at z=3 screws 4x15", "angle 30x30x3 at y=350 screws 4",
          "angle 30x30x3 at y=350 beside it", "angle 30x30x3 at y=350 screws 4x15 holes square",
          "angle 30x30x3 metal cheese at y=350 screws 4x15"}) {
        CAPTURE(text);
        CHECK(fault_of(text) != "a stiffener");
    }
}
