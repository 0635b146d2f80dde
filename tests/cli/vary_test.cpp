// SPDX-License-Identifier: MIT
#include "cli/commands/vary.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using namespace hollowtop::cli;

namespace {

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
    Stiffener bar;
    bar.name = "front";
    bar.section = "angle 30x30x3";
    bar.from = {120, 150};
    bar.to = {880, 150};
    piece.stiffeners.push_back(bar);
    piece.supports.push_back(
        {.name = "left",
         .kind = Pad{.at = {60, 70}, .size_x = 50, .size_y = 50, .hold_down = false, .stiffness = {}}});
    return piece;
}

std::vector<std::string> labels(const std::string& text, Units units = Units::mm) {
    std::vector<std::string> result;
    for (const Choice& choice : read_axis(text, tray(units)).choices)
        result.push_back(in_own_units(choice.label));
    return result;
}

std::string refusal(const std::string& text) {
    try {
        read_axis(text, tray());
    } catch (const Error& error) {
        CHECK(error.kind() == ErrorKind::input);
        CHECK(error.faults().front().place == "--vary");
        return in_own_units(error.faults().front().what) + "; " + in_own_units(error.faults().front().remedy);
    }
    return "taken";
}

using Strings = std::vector<std::string>;

} // namespace

TEST_CASE("lists and ranges of lengths are read in the units of the piece or in their own", "[cli]") {
    CHECK(labels("depth=16, 18,20") == Strings{"16 mm", "18 mm", "20 mm"});
    CHECK(labels("depth=16..26 step 4") == Strings{"16 mm", "20 mm", "24 mm"});
    CHECK(labels("depth=16..26 in 3") == Strings{"16 mm", "21 mm", "26 mm"});
    CHECK(labels("depth=10, 16..18 step 1") == Strings{"10 mm", "16 mm", "17 mm", "18 mm"});
    CHECK(labels("depth=1in") == Strings{"25.4 mm"});
    CHECK(labels("depth=1/2..1 step 1/4", Units::inch) == Strings{"0.5 in", "0.75 in", "1 in"});
    CHECK(labels("spacing=0.1..0.3 step 0.1", Units::inch).size() == 3); // rounding loses no end
}

TEST_CASE("a choice is what its label says, to the last digit", "[cli]") {
    Piece piece = tray();
    const Axis axis = read_axis("depth=8..24 in 10", piece);
    axis.choices[4].apply(piece);
    CHECK(in_own_units(axis.choices[4].label) == "15.11111 mm");
    CHECK(piece.recesses[0].depth == 15.11111);
}

TEST_CASE("a choice changes the piece as its label says", "[cli]") {
    Piece piece = tray();
    const auto apply = [&](const std::string& text) { read_axis(text, piece).choices.back().apply(piece); };
    apply("well.depth=26");
    CHECK(piece.recesses[0].depth == 26);
    apply("skin=11");
    CHECK(piece.recesses[0].depth == 29);
    apply("rim=70");
    CHECK(std::get<RectangleShape>(piece.recesses[0].shape).box == Rectangle{70, 930, 70, 430});
    apply("front.section=flat 40x5");
    CHECK(piece.stiffeners[0].section == "flat 40x5");
    apply("screw=5x25");
    CHECK(piece.stiffeners[0].screws.length == 25);
    apply("holes=round, oversize");
    CHECK(piece.stiffeners[0].screws.holes == Holes::oversize);
    apply("slot_length=14");
    CHECK(piece.stiffeners[0].screws.holes == Holes::slotted);
    CHECK(piece.stiffeners[0].screws.slot_length == 14);
    piece.ends = Ends{.width = 90, .tongue = 30, .wood = "oak_white"};
    apply("ends=70");
    CHECK(piece.ends->width == 70);
    apply("ends=0");
    CHECK_FALSE(piece.ends);
    apply("spacing=90");
    CHECK(piece.stiffeners[0].screws.spacing == 90);
    apply("metal=S235");
    CHECK(piece.stiffeners[0].metal == "S235");
    apply("place=200");
    CHECK(piece.stiffeners[0].to.y == 200);
    apply("number=1..3 step 1");
    CHECK(piece.stiffeners.size() == 3);
    apply("wood=white ash");
    CHECK(piece.top.wood == "ash_white");
    apply("rings=quartersawn");
    CHECK(piece.top.ring_angle_deg == 90);
    apply("rings=plain-sawn");
    CHECK(piece.top.ring_angle_deg == 0);
    apply("moisture=9");
    CHECK(piece.top.moisture_percent == 9);
    apply("finish=film");
    CHECK(piece.top.finish.recess == "film");
    piece.top.each_board = {{.width = 300, .rings = Rings{.pith = 50, .bark_up = false}}};
    apply("laid=bark up");
    CHECK(piece.top.each_board[0].rings->bark_up);
    piece.top.each_board.clear();
    apply("thickness=36");
    CHECK(piece.top.thickness == 36);
    apply("supports_x=80");
    CHECK(std::get<Pad>(piece.supports[0].kind).at == Point{80, 70});
    apply("supports=90");
    CHECK(std::get<Pad>(piece.supports[0].kind).at == Point{90, 90});
    apply("supports_y=95");
    CHECK(std::get<Pad>(piece.supports[0].kind).at == Point{90, 95});
}

TEST_CASE("every key that can be varied has an example that works", "[cli]") {
    CHECK(vary_keys().size() == 26);
    for (const VaryKey& key : vary_keys()) {
        CAPTURE(key.name);
        CHECK_FALSE(read_axis(key.example, tray()).choices.empty());
    }
}

TEST_CASE("all angles under a size are those of the table whose legs are shorter", "[cli]") {
    const Strings angles = labels("section=all angles under 30");
    CHECK(angles == Strings{"angle 20x20x3", "angle 25x25x3", "angle 25x25x4"});
    const Strings some = labels("section=all angles from 25 to 30, flat 40x5, angle 25x25x3");
    CHECK(some == Strings{"angle 25x25x3", "angle 25x25x4", "angle 30x30x3", "angle 30x30x4",
                          "flat 40x5"}); // none twice
    CHECK(labels("section=all channels") == Strings{"channel 30x15x4", "channel 40x20x5", "channel 50x25x5"});
    CHECK(labels("section=all bars under 30").front() == "bar 4x20");
    CHECK(labels("section=all tubes under 30").front() == "tube 20x20x2");
    CHECK(labels("section=all sections").size() > 40);
}

TEST_CASE("what cannot be varied so is refused with what would be right", "[cli]") {
    CHECK(refusal("depth") ==
          R"("depth" does not say what is varied, or over what; write for example "depth=16..26 step 2")");
    CHECK(refusal("dept=3") == R"("dept" cannot be varied; did you mean "depth"?)");
    CHECK(refusal("depth=16..26") ==
          R"("16..26" does not say how fine the range is; add "step 2" or "in 6")");
    CHECK(refusal("depth=26..16 step 1") == R"("26..16 step 1" runs downwards; give the smaller end first)");
    CHECK(refusal("depth=16..26 step 0") ==
          R"("16..26 step 0": the step is not above zero; give how far apart the values lie)");
    CHECK(refusal("depth=16,,18") ==
          R"("16,,18" has an empty place in its list; write values parted by commas)");
    CHECK(refusal("depth=-3") == "depth: -3 mm is too little; give more");
    CHECK(refusal("ends=-1") == "ends: -1 mm is too little; give 0 for none, or more");
    CHECK(refusal("laid=sideways") ==
          R"("sideways" is no way to lay boards; give "pith up", "bark up" or "alternating")");
    CHECK(refusal("wel.depth=3") == R"(no recess is called "wel"; did you mean "well"?)");
    CHECK(refusal("front.wood=cherry") == R"("front.wood": this is not said of a part; write "wood")");
    CHECK(refusal("holes=square") ==
          R"("square" is no kind of hole; give "round", "oversize", "slotted" or "bonded")");
    CHECK(refusal("number=1.5") == R"("1.5" is no number of stiffeners; give a whole number from 0 to 50)");
    CHECK(
        refusal("section=all angles over 9") ==
        R"("all angles over 9" is not understood; write for example "all angles under 40", "all angles from 25 to 40" or "all channels")");
    CHECK(refusal("section=angel 30x30x3") != "taken");
    CHECK(refusal("wood=cheese") != "taken");
    CHECK(
        refusal("rings=sideways") ==
        R"("sideways" is no way to cut the rings; give flatsawn, riftsawn, quartersawn, or an angle from 0 to 90)");
    CHECK(refusal("depth=0..1e9 step 0.001") ==
          R"("0..1e9 step 0.001" has too many values; give a coarser step)");
}

TEST_CASE("a piece without stiffeners or recesses says so when they are varied", "[cli]") {
    Piece bare = tray();
    bare.stiffeners.clear();
    bare.recesses.clear();
    CHECK_THROWS_AS(read_axis("section=flat 40x5", bare), Error);
    CHECK_THROWS_AS(read_axis("depth=12", bare), Error);
}

TEST_CASE("length, use, lands and hold-downs are varied", "[cli]") {
    const auto apply = [](const std::string& text) {
        Piece piece = tray();
        read_axis(text, piece).choices.at(0).apply(piece);
        return piece;
    };
    const Piece longer = apply("length=1200");
    CHECK(longer.top.length == 1200);
    const auto& box = std::get<RectangleShape>(longer.recesses[0].shape).box;
    CHECK(box.x0 == 100);
    CHECK(box.x1 == 1100); // the rim stays
    CHECK(std::get<Pad>(longer.supports[0].kind).at.x == 60);
    CHECK(apply("use=workbench").use == "workbench");
    const Piece ribbed = apply("lands=2");
    REQUIRE(ribbed.recesses[0].lands.size() == 2);
    const auto rib = [&](std::size_t i) {
        return std::get<RectangleShape>(ribbed.recesses[0].lands[i].shape).box;
    };
    CHECK_THAT((rib(0).x0 + rib(0).x1) / 2, Catch::WithinAbs(100 + 800.0 / 3, 1e-9)); // even bays
    CHECK_THAT((rib(1).x0 + rib(1).x1) / 2, Catch::WithinAbs(100 + 1600.0 / 3, 1e-9));
    CHECK(rib(0).y0 == 50);
    CHECK(rib(0).y1 == 450);
    CHECK(std::get<Pad>(apply("hold_down=yes").supports[0].kind).hold_down);
    CHECK_FALSE(std::get<Pad>(apply("hold_down=no").supports[0].kind).hold_down);
}
