// SPDX-License-Identifier: MIT
// The estimate by hand against sums that are done by hand.
#include "solver/hand/hand_estimate.hpp"

#include "solver/hand/hand_rows.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

namespace {

/// 1000 x 300 x 30, two knife edges right at its ends.
Piece strip_top() {
    Piece piece = invented_top();
    piece.top.width = 300;
    piece.top.outline = RectangleShape{{0, 1000, 0, 300}, 0};
    piece.supports = {edge({0, 0}, {0, 300}), edge({1000, 0}, {1000, 300})};
    return piece;
}

Recess well(Rectangle box, double depth) {
    return {.name = "well", .shape = RectangleShape{box, 0}, .depth = depth, .root_radius = 0, .lands = {}};
}

HandSag sag_of(const Piece& piece, double creep_factor = 1) {
    const HandAnswer answer =
        sag_by_hand(piece, {.loads = {0}, .own_weight = false, .creep_factor = creep_factor});
    REQUIRE(answer.sag);
    return *answer.sag;
}

} // namespace

TEST_CASE("a plain top on two edges sags by 5/384 and its shear by 1/8", "[solver][study]") {
    Piece piece = strip_top();
    piece.loads = {spread(0.001)};
    REQUIRE(why_not_by_hand(piece).empty());
    const double q = 0.001 * 300, EI = 11000.0 * 300 * 30 * 30 * 30 / 12,
                 GA = 5.0 / 6 * 700 * 300 * 30; // 0.3 N/mm
    const double by_hand = 5 * q * 1e12 / (384 * EI) + q * 1e6 / (8 * GA);
    CHECK_THAT(sag_of(piece).sag_mm, WithinRel(by_hand, 1e-6));
    CHECK_THAT(sag_of(piece, 1.6).sag_mm,
               WithinRel(1.6 * by_hand, 1e-6)); // after the years all of the wood is softer
}

TEST_CASE("rim and skin bend about one axis, as a tee does", "[solver][study]") {
    // from end to end: two rims of 50 x 30 and a skin of 200 x 12 under one face
    Piece piece = strip_top();
    piece.recesses = {well({0, 1000, 50, 250}, 18)};
    piece.loads = {spread(0.001)};
    const double rims = 100 * 30, skin = 200 * 12,
                 axis = (rims * 15 + skin * 6) / (rims + skin); // 11.0 mm under the face
    CHECK_THAT(axis, WithinRel(11.0, 1e-9));
    const double I =
        100 * 27000.0 / 12 + rims * 16 + 200 * 1728.0 / 12 + skin * 25; // 225000 + 48000 + 28800 + 60000
    const double q = 0.3, EI = 11000 * I, GA = 5.0 / 6 * 700 * (rims + skin);
    CHECK_THAT(sag_of(piece).along_mm, WithinRel(5 * q * 1e12 / (384 * EI) + q * 1e6 / (8 * GA), 1e-6));
    CHECK(sag_of(piece).dish_mm > 0);
}

TEST_CASE("on four legs the strips along and across add up", "[solver][study]") {
    Piece piece = strip_top();
    const auto leg = [](Point at) {
        return pad(at, 1e-3, false, 1e-6);
    }; // so small that it holds nothing against turning
    piece.supports = {leg({1, 1}), leg({999, 1}), leg({1, 299}), leg({999, 299})};
    piece.loads = {spread(0.001)};
    const double h3 = 27000.0 / 12, along = 5 * 0.3 * std::pow(998, 4) / (384 * 11000 * 300 * h3),
                 across = 5 * 1.0 * std::pow(298, 4) / (384 * 800 * 1000 * h3);
    const HandSag sag = sag_of(piece);
    CHECK_THAT(sag.along_mm, WithinRel(along + 0.3 * 998 * 998 / (8 * 5.0 / 6 * 700 * 9000),
                                       1e-4)); // 1 mm of overhang: 1e-5
    CHECK_THAT(sag.across_mm,
               WithinRel(across + 1.0 * 298 * 298 / (8 * 5.0 / 6 * 90 * 30000), 2e-4)); // 1 mm of 300
    CHECK_THAT(sag.sag_mm, WithinRel(sag.along_mm + sag.across_mm, 1e-12));
}

TEST_CASE("a load to one side turns the top: uneven bending and torsion share it", "[solver][study]") {
    Piece piece = strip_top();
    piece.loads = {{.name = "edge",
                    .duration = Duration::short_term,
                    .kind = LineLoad{.force = 100, .from = {500, 299.999}, .to = {500, 300}, .over = {}}}};
    const double k = std::numbers::pi / 1000, EI_uneven = 11000 * 2250 * 300.0 * 300 * 300 / 12,
                 GJ = 750 * 300 * 27000.0 / 3;
    const double turn = 100 * 150 / (500 * (EI_uneven * std::pow(k, 4) + GJ * k * k));
    CHECK_THAT(sag_of(piece).turning_mm, WithinRel(150 * turn, 1e-4));
}

TEST_CASE("a glued bar makes one section, screws of no stiffness leave it beside the wood",
          "[solver][study]") {
    Piece piece = strip_top();
    piece.loads = {spread(0.001)};
    Stiffener bar{.name = "bar",
                  .section = "bar 20x20",
                  .metal = "",
                  .wood = "",
                  .elastic = BarElastic{.E = 11000, .G = 700, .density_kg_m3 = 0},
                  .from = {0, 150},
                  .to = {1000, 150},
                  .screws = {}};
    bar.screws.holes = Holes::bonded;
    piece.stiffeners = {bar};
    const double GA = 5.0 / 6 * 700 * 9000, shear = 0.3 * 1e6 / (8 * GA),
                 apart = 11000.0 * (300 * 2250 + 20 * 8000 / 12.0);
    const double arm = 25, together = apart + 11000.0 * 9000 * 400 / 9400 * arm * arm;
    CHECK_THAT(sag_of(piece).sag_mm, WithinRel(5 * 0.3 * 1e12 / (384 * together) + shear, 1e-6));
    piece.stiffeners[0].screws = {
        .diameter = 4, .length = 15, .spacing = 100, .at = {}, .holes = Holes::round, .stiffness = 1e-9};
    CHECK_THAT(sag_of(piece).sag_mm, WithinRel(5 * 0.3 * 1e12 / (384 * apart) + shear, 1e-6));
    // Newmark: half of what glue gives where the slip takes as much as the sections' own stretch
    const double both = 11000.0 * 9000 * 400 / 9400;
    piece.stiffeners[0].screws.stiffness = 100 * std::numbers::pi * std::numbers::pi * both / 1e6;
    CHECK_THAT(sag_of(piece).sag_mm,
               WithinRel(5 * 0.3 * 1e12 / (384 * (apart + both * arm * arm / 2)) + shear, 1e-6));
}

TEST_CASE("where it does not apply the estimate says so, and no number", "[solver][study]") {
    Piece piece = strip_top();
    piece.loads = {spread(0.001)};
    const auto why = [](const Piece& p) { return why_not_by_hand(p); };
    CHECK(why(piece).empty());
    Piece other = piece;
    other.top.outline = EllipseShape{{0, 1000, 0, 300}};
    CHECK(why(other) == "an outline that is no rectangle");
    other = piece;
    other.top.grain_deg = 20;
    CHECK(why(other) == "grain that runs aslant");
    other = piece;
    other.supports = {pad({500, 150}, 200)};
    CHECK(why(other) == "a single support");
    other.supports = {pad({50, 50}), pad({950, 50}), pad({500, 250})};
    CHECK(why(other) == "supports that do not stand in two rows");
    other = piece;
    other.recesses = {well({20, 980, 20, 280}, 12)};
    other.supports = {pad({60, 60}), pad({940, 60}), pad({60, 240}), pad({940, 240})};
    CHECK(why(other) == "a leg under a recess");
    other = piece;
    other.supports = {edge({400, 0}, {400, 300}), edge({700, 0}, {700, 300})};
    CHECK(why(other) == "hardly longer than wide between its bearers");
    other.supports = {edge({0, 0}, {0, 300}), edge({600, 0}, {600, 300})};
    other.loads = {patch_of(100, {900, 150}, 50, 50)};
    CHECK(sag_by_hand(other, {.loads = {0}, .own_weight = false, .creep_factor = 1}).why_not ==
          "a load over or past the supports");
    other.loads = {patch_of(100, {590, 150}, 50, 50)}; // over the bearer
    CHECK(sag_by_hand(other, {.loads = {0}, .own_weight = false, .creep_factor = 1}).why_not ==
          "a load over or past the supports");
}

TEST_CASE("rows stand beside the situations, and what lies too far apart is warned of", "[solver][study]") {
    Piece piece = strip_top();
    piece.loads = {spread(0.001)};
    SituationPlan plan;
    plan.loads = {{.load = 0, .factor = 1}};
    const double by_hand = sag_of(piece).sag_mm;
    for (const double times : {1.0, 2.0}) {
        Result result;
        SituationResult situation;
        situation.name = "spread";
        situation.sag_mm = times * by_hand;
        result.situations = {situation};
        result.by_hand = estimates_by_hand(piece, {plan}, 0, result);
        warn_of_disagreement(result);
        REQUIRE(result.by_hand.size() == 1);
        CHECK_THAT(*result.by_hand[0].computed_over_hand, WithinRel(times, 1e-12));
        CHECK(result.by_hand[0].agrees == (times < 1.5));
        CHECK(result.warnings.empty() == (times < 1.5));
        result.situations[0].reactions = {{.support = "edge", .force_N = 0, .lifts = true}};
        CHECK(estimates_by_hand(piece, {plan}, 0, result)[0].why_not == "a support lets go");
    }
}
