// SPDX-License-Identifier: MIT
#include "solver/hand/solid_equal.hpp"

#include "solver/check/check_piece.hpp"
#include "solver/model/make_model.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// On two edges, under a load and its own weight.
Piece on_edges(double thickness) {
    Piece piece = invented_top();
    piece.top.thickness = thickness;
    piece.supports = {edge({50, 0}, {50, 600}), edge({950, 0}, {950, 600})};
    piece.loads = {spread(0.0005, Duration::long_term), patch_of(300, {500, 300}, 100, 100)};
    piece.self_weight = true;
    return piece;
}

} // namespace

TEST_CASE("the solid equal of a solid top is that top, from whatever thickness the search starts",
          "[solver][study]") {
    const Piece top = on_edges(30);
    const Model model = make_model(top, coarse());
    const std::vector<SituationPlan> plans = plan_situations(top, model);
    const Result result = check_piece(top).result;
    CHECK_FALSE(result.solid_equal); // nothing to compare it with
    for (const double start : {20.0, 26.0, 45.0}) {
        Piece other = top;
        other.top.thickness = start;
        for (std::size_t s = 0; s < plans.size(); ++s) {
            INFO(start << " mm, " << in_own_units(plans[s].name));
            const SolidEqual equal = solid_equal(other, plans[s], 1, result.situations[s].sag_mm, 1);
            REQUIRE(equal.thickness_mm);
            CHECK_THAT(*equal.thickness_mm, WithinAbs(30, 0.1)); // what is promised
            CHECK_THAT(*equal.mass_kg, WithinRel(1.0 * 0.6 * 0.001 * *equal.thickness_mm * 650, 1e-3));
        }
    }
}

TEST_CASE("a hollowed top's solid equal is thinner, and sags as little when it is checked itself",
          "[solver][study][long]") {
    Piece hollow = on_edges(30);
    hollow.recesses = {{.name = "well",
                        .shape = RectangleShape{{100, 900, 80, 520}, 0},
                        .depth = 14,
                        .root_radius = 0,
                        .lands = {}}};
    const Result result = check_piece(hollow).result;
    REQUIRE(result.solid_equal);
    REQUIRE(result.solid_equal->thickness_mm);
    CHECK(*result.solid_equal->thickness_mm < 30);
    Piece solid = on_edges(*result.solid_equal->thickness_mm);
    const Result equal = check_piece(solid).result;
    const int s = nearest_to_its_limit(result);
    REQUIRE(s >= 0);
    // 0.1 mm of 25 mm is 0.4 % of thickness and so 1.2 % of sag
    CHECK_THAT(equal.situations[static_cast<std::size_t>(s)].sag_mm,
               WithinRel(result.situations[static_cast<std::size_t>(s)].sag_mm, 0.012));
    CHECK_THAT(equal.mass.solid_kg, WithinRel(*result.solid_equal->mass_kg, 1e-3));
}

TEST_CASE("what only needs the essentials gets neither answer", "[solver][study][long]") {
    Piece hollow = on_edges(30);
    hollow.recesses = {{.name = "well",
                        .shape = RectangleShape{{100, 900, 80, 520}, 0},
                        .depth = 14,
                        .root_radius = 0,
                        .lands = {}}};
    CheckOptions options;
    options.essentials = true;
    const Result result = check_piece(hollow, options).result;
    CHECK(result.by_hand.empty());
    CHECK_FALSE(result.solid_equal);
}
