// SPDX-License-Identifier: MIT
#include "solver/piece/boards.hpp"

#include "solver/check/check_piece.hpp"
#include "solver/check/symmetry.hpp"
#include "solver/section/top_material.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

CheckOptions quick() {
    CheckOptions options;
    options.mesh = CheckOptions::Mesh::coarse;
    options.threads = 1;
    options.essentials = options.no_advice = true;
    return options;
}

/// A hollowed ash top, 1200 x 600 mm, pressed at its front edge.
Piece table() {
    Piece piece;
    piece.top.length = 1200;
    piece.top.width = 600;
    piece.top.thickness = 30;
    piece.top.wood = "ash_white";
    piece.top.outline = RectangleShape{.box = {0, 1200, 0, 600}};
    piece.recesses.push_back({.name = "well",
                              .shape = RectangleShape{.box = {150, 1050, 120, 480}, .corner_radius = 0},
                              .depth = 10,
                              .lands = {}});
    for (const Point at : {Point{60, 60}, Point{1140, 60}, Point{60, 540}, Point{1140, 540}})
        piece.supports.push_back(
            {"pad", Pad{.at = at, .size_x = 60, .size_y = 60, .hold_down = true, .stiffness = {}}});
    piece.loads.push_back(
        {.name = "hand",
         .kind = PatchLoad{.force = 300, .at = {600, 60}, .size_x = 100, .size_y = 100, .over = {}}});
    return piece;
}

/// Boards of equal width with those moduli, from y = 0.
std::vector<Board> boards(const std::vector<double>& moduli, double width) {
    std::vector<Board> all;
    for (const double modulus : moduli) {
        Board board{.width = width / static_cast<double>(moduli.size())};
        board.measured.E_along = modulus;
        all.push_back(board);
    }
    return all;
}

Piece with_boards(Piece piece, const std::vector<double>& moduli) {
    piece.top.each_board = boards(moduli, piece.top.width);
    piece.top.boards = static_cast<int>(moduli.size());
    return piece;
}

double greatest_sag(const Piece& piece) {
    double sag = 0;
    for (const SituationResult& s : check_piece(piece, quick()).result.situations)
        if (s.stage == Stage::passing) sag = std::max(sag, s.sag_mm);
    return sag;
}

} // namespace

TEST_CASE("boards that are all alike are one board, to the last bit", "[solver]") {
    Piece one = table();
    one.top.measured.E_along = 11000;
    const Result whole = check_piece(one, quick()).result,
                 glued = check_piece(with_boards(table(), {11000, 11000, 11000, 11000}), quick()).result;
    REQUIRE(whole.checks.size() == glued.checks.size());
    for (std::size_t k = 0; k < whole.checks.size(); ++k) {
        CHECK(whole.checks[k].check == glued.checks[k].check);
        CHECK(whole.checks[k].demand == glued.checks[k].demand);
    }
    CHECK(whole.mesh.elements == glued.mesh.elements);
}

TEST_CASE("a mesh that keeps its glue lines between boards that are alike moves as one without", "[solver]") {
    Piece plain = table(), kept = table();
    plain.top.measured.E_along = kept.top.measured.E_along = 11000;
    kept.top.boards = 4;
    kept.top.glue_lines_kept = true;
    CHECK_THAT(greatest_sag(kept), WithinRel(greatest_sag(plain), 2e-3)); // two coarse meshes
}

TEST_CASE(
    "three boards of a narrow strip bend as one of their mean modulus, and each takes stress by its own",
    "[solver]") {
    Piece strip;
    strip.top.length = 1500;
    strip.top.width = 90;
    strip.top.thickness = 20;
    strip.top.wood = "ash_white";
    strip.top.outline = RectangleShape{.box = {0, 1500, 0, 90}};
    for (const double x : {50.0, 1450.0})
        strip.supports.push_back({"bearer", Bearer{.from = {x, 0}, .to = {x, 90}, .hold_down = true}});
    strip.loads.push_back(
        {.name = "weight", .kind = LineLoad{.force = 100, .from = {750, 0}, .to = {750, 90}, .over = {}}});
    strip.self_weight = false;
    strip.probes = {{500, 15}, {500, 45}, {500, 75}};
    Piece even = strip;
    even.top.measured.E_along = 10000; // (8000 + 14000 + 8000) / 3
    const Result mixed = check_piece(with_boards(strip, {8000, 14000, 8000}), quick()).result,
                 alike = check_piece(even, quick()).result;
    // Euler and Bernoulli: P L^3 / (48 sum E I); what shear and the sides' turning up add is alike in both
    CHECK_THAT(mixed.situations.front().sag_mm, WithinRel(alike.situations.front().sag_mm, 3e-3));
    const auto stress = [](const Result& result, std::size_t probe) {
        return result.situations.front().probes[probe].stress_bottom_MPa[0];
    };
    CHECK_THAT(stress(mixed, 1) / stress(mixed, 0), WithinRel(14.0 / 8.0, 0.01));
    CHECK_THAT(stress(mixed, 1) / stress(alike, 1), WithinRel(1.4, 0.01));
    // of one strip the bending moment is known: P a / 2 over the section, by share of stiffness
    const double moment = 100.0 / 2 * 450, section = 90.0 * 20 * 20 / 6;
    CHECK_THAT(stress(alike, 1), WithinRel(moment / section, 0.02));
}

TEST_CASE("the stiff board serves best where the load is", "[solver]") {
    const double front = greatest_sag(with_boards(table(), {15000, 10000, 10000, 10000})),
                 back = greatest_sag(with_boards(table(), {10000, 10000, 10000, 15000})),
                 mean = greatest_sag(with_boards(table(), {11250, 11250, 11250, 11250}));
    CHECK(front < mean);
    CHECK(mean < back);
}

TEST_CASE("turning the whole piece upside down in plan turns the boards' order too", "[solver]") {
    Piece back = table();
    std::get<PatchLoad>(back.loads.front().kind).at = {600, 540};
    CHECK_THAT(greatest_sag(with_boards(back, {9000, 10000, 13000})),
               WithinRel(greatest_sag(with_boards(table(), {13000, 10000, 9000})), 1e-9));
}

TEST_CASE("boards across a top whose grain runs along y lie as those of the turned piece", "[solver]") {
    Piece turned = table();
    turned.top.length = 600;
    turned.top.width = 1200;
    turned.top.grain_deg = 90;
    turned.top.outline = RectangleShape{.box = {0, 600, 0, 1200}};
    std::get<RectangleShape>(turned.recesses.front().shape).box = {120, 480, 150, 1050};
    for (Support& support : turned.supports) {
        Pad& pad = std::get<Pad>(support.kind);
        pad.at = {pad.at.y, pad.at.x};
    }
    std::get<PatchLoad>(turned.loads.front().kind).at = {60, 600};
    turned.top.each_board = boards({13000, 10000, 9000}, 600);
    turned.top.boards = 3;
    CHECK_THAT(greatest_sag(turned),
               WithinRel(greatest_sag(with_boards(table(), {13000, 10000, 9000})), 1e-8));
}

TEST_CASE("glue lines that run askew cut the cells that they cross", "[solver]") {
    Piece askew = table();
    askew.top.grain_deg = 10;
    Piece alike = askew;
    alike.top.measured.E_along = 11000;
    askew.top.each_board = boards({11000 * (1 + 1e-7), 11000, 11000 * (1 - 1e-7)}, extent_across(askew.top));
    askew.top.boards = 3;
    // next to alike: what is left is that the mesh is cut another way
    CHECK_THAT(greatest_sag(askew), WithinRel(greatest_sag(alike), 3e-3));
}

TEST_CASE("boards follow one another from the edge nearest the origin, and fill the width", "[solver]") {
    Top top;
    top.length = 1000;
    top.width = 300;
    top.each_board = {{.width = 101}, {.width = 202}};
    const std::vector<BoardStrip> strips = board_strips(top);
    REQUIRE(strips.size() == 2);
    CHECK_THAT(strips[0].from, WithinAbs(0, 1e-12));
    CHECK_THAT(strips[0].to, WithinAbs(100, 1e-9));
    CHECK_THAT(strips[1].to, WithinAbs(300, 1e-9));
    top.grain_deg = 90;
    CHECK_THAT(extent_across(top), WithinAbs(1000, 1e-9));
    CHECK(across_boards(top).x == 1);
}

TEST_CASE("what is asked of a wood across and in shear scales those moduli alone", "[solver]") {
    Top top = table().top;
    const materials::WoodConstants plain = wood_constants_of(top);
    top.shares = {.across = 0.8, .shear = 1.25};
    const materials::WoodConstants other = wood_constants_of(top);
    CHECK(other.E_L == plain.E_L);
    CHECK_THAT(other.E_T, WithinRel(0.8 * plain.E_T, 1e-14));
    CHECK_THAT(other.G_LT, WithinRel(1.25 * plain.G_LT, 1e-14));
}

TEST_CASE(
    "a top of unlike boards is the same from the left and the right, and from front and back only where they "
    "follow one another as in a mirror",
    "[solver]") {
    Piece piece = table();
    CHECK(symmetry_of(piece).y);
    const Symmetry unlike = symmetry_of(with_boards(piece, {9000, 10000, 12000}));
    CHECK(unlike.x);
    CHECK_FALSE(unlike.y);
    CHECK(symmetry_of(with_boards(piece, {9000, 12000, 9000})).y);
}
