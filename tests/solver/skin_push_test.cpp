// SPDX-License-Identifier: MIT
#include "solver/readout/skin_push.hpp"

#include "solver/checks/checks.hpp"
#include "solver/checks/judges.hpp"
#include "tests/solver/checks_for_tests.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// A square skin inside a rim that is ten times as thick, isotropic.
Piece square_in_a_heavy_rim(double side, double skin) {
    Piece piece = plain_piece(side + 400, side + 400, 10 * skin);
    piece.top.elastic = Elastic{.E1 = 10000,
                                .E2 = 10000,
                                .nu12 = 0.3,
                                .G12 = 10000 / 2.6,
                                .G13 = 10000 / 2.6,
                                .G23 = 10000 / 2.6,
                                .density_kg_m3 = 600};
    const double l = side + 400;
    for (const Point& p : {Point{40, 40}, {l - 40, 40}, {l - 40, l - 40}, {40, l - 40}})
        piece.supports.push_back(pad(p));
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {200, side + 200, 200, side + 200}, .corner_radius = 0},
                       .depth = 9 * skin,
                       .root_radius = 0,
                       .lands = {}}};
    return piece;
}

const SkinPush& named(const std::vector<SkinPush>& pushes, const std::string& name) {
    for (const SkinPush& push : pushes)
        if (push.push == name) return push;
    throw std::runtime_error("no push " + name);
}

Piece wooden_top(double skin) {
    Piece piece = invented_top();
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {100, 900, 100, 500}, .corner_radius = 0},
                       .depth = 30 - skin,
                       .root_radius = 3,
                       .lands = {}}};
    for (const Point& p : {Point{60, 60}, {940, 60}, {940, 540}, {60, 540}}) piece.supports.push_back(pad(p));
    return piece;
}

} // namespace

TEST_CASE("a heel on a square skin in a heavy rim sinks as on a plate that is all but clamped",
          "[solver][push][published]") {
    // Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 1959, tables 23 and 37 (from memory): a
    // force in the middle sinks by 0.00560 P a^2 / D clamped, 0.01160 simply supported. The rim gives a
    // little, and so does the skin in shear
    const double side = 400, skin = 8, D = 10000 * skin * skin * skin / 12 / (1 - 0.09);
    const SkinPush heel = named(push_skins(square_in_a_heavy_rim(side, skin), 1), "a narrow heel");
    const double clamped = 0.00560 * heel.force_N * side * side / D,
                 supported = 0.01160 * heel.force_N * side * side / D;
    CHECK(heel.dish_mm > clamped);
    CHECK(heel.dish_mm < clamped + 0.12 * (supported - clamped));
    CHECK_THAT(heel.at.x, WithinAbs(400, 0.01));
    CHECK_THAT(heel.at.y, WithinAbs(400, 0.01));
}

TEST_CASE("the stress under a heel is the one of Westergaard's formula", "[solver][push][published]") {
    // Roark's Formulas for Stress and Strain, table of flat plates, square, all edges fixed, load on a small
    // circle of radius r (from memory): 3 P / (2 pi t^2) ((1 + nu) ln(2 b / (pi r)) - 0.238). The mean over
    // one thickness is (1 + nu) / 2 x (t^2 / 6) / r^2 less in the bracket; 4 % for the rim that gives and for
    // a square taken as a circle of its area
    const double side = 400, skin = 8;
    const SkinPush heel = named(push_skins(square_in_a_heavy_rim(side, skin), 1), "a narrow heel");
    const double r = heel.size_mm / std::sqrt(std::numbers::pi);
    const double bracket =
        1.3 * std::log(2 * side / (std::numbers::pi * r)) - 0.238 - 0.65 * skin * skin / 6 / (r * r);
    const double stress = 3 * heel.force_N / (2 * std::numbers::pi * skin * skin) * bracket;
    CHECK_THAT(heel.stress_bottom_MPa[0], WithinRel(stress, 0.04));
    CHECK_THAT(heel.stress_bottom_MPa[1], WithinRel(stress, 0.04));
    CHECK_THAT(heel.stress_top_MPa[0], WithinRel(-stress, 0.04));
}

TEST_CASE("the mesh under a push is fine enough", "[solver][push]") {
    // against cells a third as large: sinking within 1 %, stress within 3 %, the program's own targets
    const Piece piece = wooden_top(10);
    const std::vector<std::optional<Point>> place{Point{500, 300}};
    const std::vector<SkinPush> usual = push_at(piece, place, 1), fine = push_at(piece, place, 1, 5);
    REQUIRE(usual.size() == 4);
    for (size_t k = 0; k < usual.size(); ++k) {
        INFO(usual[k].push);
        CHECK_THAT(usual[k].dish_mm, WithinRel(fine[k].dish_mm, 0.01));
        CHECK_THAT(usual[k].stress_bottom_MPa[1], WithinRel(fine[k].stress_bottom_MPa[1], 0.03));
        CHECK_THAT(usual[k].shear_MPa[0],
                   WithinRel(fine[k].shear_MPa[0], 0.1)); // jumps along the edge of the push
    }
}

TEST_CASE("no other place of the skin gives way more than the one found", "[solver][push][long]") {
    // a land on one side and a bar on the other: the middle of the recess is not the weakest place
    Piece piece = wooden_top(8);
    piece.recesses[0].lands = {
        Land{.name = "", .shape = RectangleShape{.box = {300, 420, 220, 380}, .corner_radius = 0}}};
    const auto found = weakest_places(piece, plan_model(piece, true));
    REQUIRE(found.size() == 1);
    const double there = named(push_at(piece, found, 1), "a thumb").dish_mm;
    for (const double x : {200.0, 500.0, 560.0, 620.0, 680.0, 740.0, 800.0})
        for (const double y : {240.0, 300.0, 340.0})
            CHECK(named(push_at(piece, {Point{x, y}}, 1), "a thumb").dish_mm < 1.03 * there);
}

TEST_CASE("a plain skin gives way most in its middle, wherever it lies", "[solver][push]") {
    Piece piece = wooden_top(8);
    const auto well = [](double x0, double y0, double width, double height) {
        return Recess{.name = "well",
                      .shape =
                          RectangleShape{.box = {x0, x0 + width, y0, y0 + height}, .corner_radius = 19.05},
                      .depth = 22,
                      .root_radius = 3,
                      .lands = {}};
    };
    for (int k = 0; k < 40;
         ++k) { // places that are no round numbers: a step to the wall may come out longer than a step
        const double x0 = 50.8 + 3.7 / 3 * k, y0 = 76.2 + 0.1 * k, width = 330.2 + k / 7.0,
                     height = 228.6 + k / 9.0;
        piece.recesses = {well(x0, y0, width, height), well(x0 + 450, y0, width, height)};
        const auto found = weakest_places(piece, plan_model(piece, true));
        REQUIRE(found.size() == 2);
        for (std::size_t r = 0; r < 2; ++r) {
            REQUIRE(found[r]);
            CHECK_THAT(found[r]->x, WithinAbs(x0 + 450.0 * static_cast<double>(r) + width / 2, 1e-3));
            CHECK_THAT(found[r]->y, WithinAbs(y0 + height / 2, 1e-3));
        }
    }
}

TEST_CASE("a bar across a skin halves the room for a push", "[solver][push]") {
    Piece piece = wooden_top(8);
    const double open = named(push_skins(piece, 1), "a thumb").dish_mm;
    piece.stiffeners = {{.name = "bar",
                         .section = "bar 20x40",
                         .metal = "S235",
                         .wood = "",
                         .elastic = {},
                         .from = {120, 300},
                         .to = {880, 300},
                         .screws = {.diameter = 4, .length = 7, .spacing = 100, .at = {}, .stiffness = {}}}};
    const SkinPush held = named(push_skins(piece, 1), "a thumb");
    CHECK(std::abs(held.at.y - 300) > 50);
    CHECK(held.dish_mm < 0.6 * open);
}

TEST_CASE("pushes are told as advice and never fail a top", "[solver][push][checks]") {
    Piece piece = wooden_top(4);
    piece.top.elastic.reset();
    piece.top.wood = "cherry_black";
    Response response;
    response.situations.emplace_back();
    response.pushes = push_skins(piece, 1);
    const CheckInput input{.piece = piece,
                           .response = response,
                           .situation = response.situations.front(),
                           .plane = plane_of(piece),
                           .allowables = std::nullopt};
    const auto sinks = judge_push_dish(input), breaks = judge_push_strength(input);
    REQUIRE(sinks);
    REQUIRE(breaks);
    CHECK(sinks->advice);
    CHECK(breaks->advice);
    CHECK(sinks->demand > sinks->capacity); // 4 mm of skin over 400 mm
    CHECK(breaks->demand > breaks->capacity);
    CHECK_THAT(in_own_units(sinks->situation),
               Catch::Matchers::StartsWith("a ") && Catch::Matchers::EndsWith(" on well"));
    const Piece thick = [] {
        Piece p = wooden_top(27);
        p.top.elastic.reset();
        p.top.wood = "cherry_black";
        return p;
    }();
    response.pushes = push_skins(thick, 1);
    const CheckInput again{.piece = thick,
                           .response = response,
                           .situation = response.situations.front(),
                           .plane = plane_of(thick),
                           .allowables = std::nullopt};
    CHECK(judge_push_dish(again)->demand < judge_push_dish(again)->capacity);
    CHECK(judge_push_strength(again)->demand < judge_push_strength(again)->capacity);
}

TEST_CASE("the strength that a push uses is the greatest share of bending and shear",
          "[solver][push][checks]") {
    Piece piece = wooden_top(10);
    piece.top.elastic.reset();
    piece.top.wood = "cherry_black";
    const auto allowables = allowables_of(piece, Duration::short_term);
    SkinPush push{.push = "heel",
                  .recess = "well",
                  .skin_mm = 10,
                  .at = {},
                  .force_N = 800,
                  .size_mm = 20,
                  .dish_mm = 0.1,
                  .dish_limit_mm = {},
                  .duration = Duration::short_term,
                  .stress_top_MPa = {},
                  .stress_bottom_MPa = {0, 0.5 * allowables->tension_across.value, 0},
                  .shear_MPa = {},
                  .pressure_MPa = 2,
                  .source = ""};
    fill_strength_used(piece, push);
    CHECK_THAT(*push.strength_used, WithinRel(0.5, 1e-12));
    CHECK(push.used_by == "bending of the skin");
    push.shear_MPa = {0, 0.75 * allowables->rolling_shear.value};
    fill_strength_used(piece, push);
    CHECK_THAT(*push.strength_used, WithinRel(0.75, 1e-12));
    CHECK(push.used_by == "rolling shear");
    push.dish_mm = 6; // more than half the skin: a share that passes is not told
    push.strength_used.reset();
    fill_strength_used(piece, push);
    CHECK_FALSE(push.strength_used);
}

TEST_CASE(
    "a hand that leans may push a skin down by its clear width / 400, whatever way the recess is turned",
    "[solver][push]") {
    const SkinPush square = named(push_skins(wooden_top(10), 1), "a hand that leans");
    CHECK(square.force_N == 300);
    REQUIRE((square.clear_width_mm && square.dish_limit_mm));
    CHECK_THAT(*square.clear_width_mm, WithinAbs(400, 0.05)); // the well is 800 by 400
    CHECK_THAT(*square.dish_limit_mm, WithinAbs(1.0, 1e-3));
    // a strip 500 by 200 turned by 30 degrees about (500, 300)
    Piece turned = wooden_top(10);
    PolygonShape strip;
    for (const Point p : {Point{-250, -100}, {250, -100}, {250, 100}, {-250, 100}})
        strip.points.push_back(
            {500 + std::sqrt(0.75) * p.x - 0.5 * p.y, 300 + 0.5 * p.x + std::sqrt(0.75) * p.y});
    turned.recesses[0].shape = strip;
    const SkinPush slanting = named(push_skins(turned, 1), "a hand that leans");
    REQUIRE(slanting.clear_width_mm);
    CHECK_THAT(*slanting.clear_width_mm, WithinRel(200, 1e-3));
}

TEST_CASE("a skin that gives more than its share feels springy, as advice", "[solver][push][checks]") {
    Response response = response_of(situation("books", Stage::at_once, Duration::long_term));
    response.pushes.push_back({.push = "a hand that leans",
                               .recess = "well",
                               .skin_mm = 10,
                               .at = {500, 300},
                               .force_N = 300,
                               .size_mm = 89,
                               .dish_mm = 1.2,
                               .dish_limit_mm = 0.9,
                               .duration = Duration::short_term,
                               .pressure_MPa = 0.04,
                               .source = "ours (judgement)",
                               .clear_width_mm = 360});
    const Piece piece = oak_top();
    const auto row = judge_springy(input_of(piece, response));
    REQUIRE(row);
    CHECK(row->advice);
    CHECK(row->demand == 1.2);
    CHECK(row->capacity == 0.9);
    CHECK(in_own_units(row->basis)
              .find("clear width of 360 mm / 400; 300 N on a square of 89 mm, skin of 10 mm") == 0);
    CHECK_FALSE(judge_push_dish(input_of(piece, response))); // a limit of its own
}
