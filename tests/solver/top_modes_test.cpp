// SPDX-License-Identifier: MIT
#include "solver/vibration/top_modes.hpp"

#include "solver/model/make_model.hpp"
#include "solver/vibration/frequencies.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Stiffener bar(const char* name, Point from, Point to, Holes holes) {
    return {
        .name = name,
        .section = "angle 30x30x3",
        .metal = "S235",
        .wood = "",
        .elastic = {},
        .from = from,
        .to = to,
        .screws = {.diameter = 4.5, .length = 12, .spacing = 150, .at = {}, .holes = holes, .stiffness = {}}};
}

Piece hollow_top(Holes holes) {
    Piece piece = invented_top();
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {100, 900, 80, 520}},
                       .depth = 14,
                       .root_radius = 0,
                       .lands = {}}};
    for (const Point& p : {Point{60, 60}, {940, 60}, {940, 540}, {60, 540}})
        piece.supports.push_back(pad(p, 60));
    piece.stiffeners = {bar("front", {150, 200}, {850, 200}, holes),
                        bar("back", {150, 400}, {850, 400}, holes)};
    piece.loads = {spread(0.0002, Duration::long_term)};
    return piece;
}

} // namespace

TEST_CASE("the floating top's modes are orthonormal in its mass and the rigid motions come first",
          "[solver][frequencies]") {
    const Piece piece = hollow_top(Holes::round);
    const Model model = make_model(piece, coarse());
    const TopModes modes = top_modes(model);
    REQUIRE(modes.n_rigid == 6);
    REQUIRE(modes.shapes.size() == 30);
    for (std::size_t k = 0; k < 6; ++k) CHECK(modes.lambda[k] == 0);
    for (std::size_t k = 7; k < 30; ++k) CHECK(modes.lambda[k] >= modes.lambda[k - 1]);
    std::vector<double> stretched(modes.shapes[0].size());
    for (std::size_t k = 0; k < 30; ++k) { // x' K x = lambda
        multiply(model.shell.stiffness, modes.shapes[k], stretched);
        double energy = 0;
        for (std::size_t i = 0; i < stretched.size(); ++i) energy += stretched[i] * modes.shapes[k][i];
        CHECK_THAT(energy,
                   WithinAbs(modes.lambda[k], 1e-6 * modes.lambda[29])); // cancelling of large stiffnesses
    }
}

TEST_CASE("frequencies on bars hardly change where three times as many modes are kept",
          "[solver][frequencies][long]") {
    for (const Holes holes : {Holes::slotted, Holes::round, Holes::bonded}) {
        const Piece piece = hollow_top(holes);
        const Model model = make_model(piece, coarse());
        const std::vector<SolvedSituation> solved = solve_situations(piece, model);
        TopModes usual = top_modes(model), more = top_modes(model, 72);
        const std::vector<double> few = frequencies_on_bars(model, usual, solved, 6),
                                  many = frequencies_on_bars(model, more, solved, 6);
        CHECK(frequencies_on_bars(model, usual, solved, 6) == few); // what was seen at the columns is kept
        for (std::size_t k = 0; k < 6; ++k) {
            INFO("frequency " << k);
            CHECK_THAT(few[k],
                       WithinRel(many[k],
                                 k == 0
                                     ? 1e-4
                                     : 2e-3)); // (f / f left out)^4, and that is three to five times as high
        }
    }
}

TEST_CASE("a strip with a batten glued all along rings as the composite beam does",
          "[solver][frequencies][published]") {
    // f = pi/2 sqrt(E I / (m L^4)), Timoshenko, Vibration Problems in Engineering, 1937, with the section of
    // both
    Piece piece = plain_piece(1500, 60, 10);
    piece.top.elastic = Elastic{
        .E1 = 11000, .E2 = 11000, .nu12 = 0, .G12 = 5500, .G13 = 5500, .G23 = 5500, .density_kg_m3 = 650};
    piece.supports = {edge({0, 0}, {0, 60}, true), edge({1500, 0}, {1500, 60}, true)};
    piece.self_weight = false;
    piece.loads = {spread(0.0001)};
    piece.stiffeners = {{.name = "batten",
                         .section = "flat 60x10",
                         .metal = "",
                         .wood = "",
                         .elastic = BarElastic{.E = 11000, .G = 5500, .density_kg_m3 = 650},
                         .from = {1, 30},
                         .to = {1499, 30},
                         .screws = {.diameter = 4,
                                    .length = 15,
                                    .spacing = 100,
                                    .at = {},
                                    .holes = Holes::bonded,
                                    .stiffness = {}}}};
    const Model model = make_model(piece, coarse());
    const double found = first_frequencies(model, solve_situations(piece, model), 1)[0];
    const double m = 650e-9 * 20 * 60, I = 60 * 20.0 * 20 * 20 / 12; // kg/mm, mm4
    const double expected = std::numbers::pi / 2 * std::sqrt(1000 * 11000 * I / (m * std::pow(1500.0, 4)));
    CHECK_THAT(found, WithinRel(expected, 0.01)); // tiles of glue 100 mm long
}
