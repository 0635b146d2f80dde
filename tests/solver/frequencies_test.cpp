// SPDX-License-Identifier: MIT
#include "solver/vibration/frequencies.hpp"

#include "solver/model/make_model.hpp"
#include "solver/shell/loads.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

std::vector<double> frequencies(const Piece& piece, int count = 4, const ModelOptions& options = coarse()) {
    const Model model = make_model(piece, options);
    return first_frequencies(model, solve_situations(piece, model), count);
}

Piece on_four_pads(bool hold_down = true) {
    Piece piece = invented_top();
    for (const Point& p : {Point{60, 60}, {940, 60}, {940, 540}, {60, 540}})
        piece.supports.push_back(pad(p, 60, hold_down));
    piece.loads = {spread(0.0001)};
    return piece;
}

/// The oval of docs/examples, as it once was: its natural frequencies could not be found.
Piece oval_table() {
    Piece piece;
    piece.top.length = 2100;
    piece.top.width = 1100;
    piece.top.thickness = 36;
    piece.top.wood = "ash_white";
    piece.top.ring_angle_deg = 45;
    piece.top.moisture_percent = 9;
    piece.top.outline = EllipseShape{{0, 2100, 0, 1100}};
    piece.recesses = {{.name = "well",
                       .shape = RimShape{.rim = 130, .corner_radius = 0},
                       .depth = 28,
                       .root_radius = 0,
                       .lands = {}}};
    piece.supports = {pad({330, 550}, 120, true), pad({1500, 250}, 120, true), pad({1500, 850}, 120, true)};
    piece.loads = {spread(0.00015, Duration::long_term)};
    return piece;
}

} // namespace

TEST_CASE("a thin strip on two knife edges rings as the beam formula says",
          "[solver][frequencies][published]") {
    // f = pi/2 sqrt(E I / (m L^4)), Timoshenko, Vibration Problems in Engineering, 1937. Shear and the
    // turning mass of a strip 100 times as long as thick take 0.1 %; without side contraction no more is left
    // out.
    Piece piece = plain_piece(1000, 50, 10);
    piece.top.elastic = Elastic{
        .E1 = 11000, .E2 = 11000, .nu12 = 0, .G12 = 5500, .G13 = 5500, .G23 = 5500, .density_kg_m3 = 650};
    piece.supports = {edge({0, 0}, {0, 50}, true), edge({1000, 0}, {1000, 50}, true)};
    piece.loads = {spread(0.0001)};
    piece.self_weight = false;
    const double m = 650e-9 * 10, I = 10.0 * 10 * 10 / 12; // kg/mm2 of area; per width
    const double expected = std::numbers::pi / 2 * std::sqrt(1000 * 11000 * I / (m * 1e12));
    CHECK_THAT(frequencies(piece, 1)[0], WithinRel(expected, 0.002));
}

TEST_CASE("a load as heavy as the top lowers its frequencies by the root of two", "[solver][frequencies]") {
    // the turning of the sections, which the load does not share, is (t/L)^2 of the mass: under 0.2 %
    Piece piece = on_four_pads();
    const std::vector<double> bare = frequencies(piece);
    piece.loads = {spread(650e-9 * 30 * standard_gravity, Duration::long_term)};
    const std::vector<double> laden = frequencies(piece);
    for (std::size_t k = 0; k < 3; ++k) CHECK_THAT(laden[k], WithinRel(bare[k] / std::numbers::sqrt2, 0.002));
}

TEST_CASE("a load that passes does not swing with the top", "[solver][frequencies]") {
    Piece piece = on_four_pads();
    const std::vector<double> bare = frequencies(piece);
    piece.loads = {spread(0.002, Duration::medium), patch_of(500, {500, 300}, 100, 100)};
    const std::vector<double> passing = frequencies(piece);
    for (std::size_t k = 0; k < bare.size(); ++k)
        CHECK_THAT(passing[k], WithinRel(bare[k], 1e-9)); // the same matrices
}

TEST_CASE("loads that cover cells in part give frequencies that hardly depend on the mesh",
          "[solver][frequencies][long]") {
    // once they were lumped at nodes, some negative; then no natural frequency could be found at all, or a
    // wrong one
    for (const auto& kind :
         {decltype(Load::kind){AreaLoad{.pressure = 0.001, .over = Rectangle{333, 777, 41, 299}}},
          {PatchLoad{.force = 200, .at = {611, 203}, .size_x = 97, .size_y = 61, .over = {}}},
          {PatchLoad{.force = 200, .at = {611, 203}, .over = {}}},
          {LineLoad{.force = 200, .from = {100, 80}, .to = {913, 555}, .over = {}}}}) {
        Piece piece = on_four_pads();
        piece.loads = {{.name = "stays", .duration = Duration::permanent, .kind = kind}};
        ModelOptions fine = coarse(4);
        fine.shell.size.largest = 90;
        const std::vector<double> one = frequencies(piece), other = frequencies(piece, 4, fine);
        for (std::size_t k = 0; k < one.size(); ++k)
            CHECK_THAT(one[k], WithinRel(other[k], 0.01)); // the coarse mesh is good for 1 %
    }
}

TEST_CASE("an oval top with a load that stays has its frequencies", "[solver][frequencies][slow]") {
    const Piece piece = oval_table();
    ModelOptions options = coarse();
    options.shell.size = {.largest = 230, .at_walls = 30, .at_edges = 115, .growth = 0.6};
    const std::vector<double> found = frequencies(piece, 6, options);
    REQUIRE(found.size() == 6);
    CHECK(std::is_sorted(found.begin(), found.end()));
    Piece bare = piece;
    bare.loads[0].duration = Duration::short_term;
    const std::vector<double> without = frequencies(bare, 6, options);
    for (std::size_t k = 0; k < 6; ++k) CHECK(found[k] < without[k]);
}

TEST_CASE("a top that has left a support swings free of it", "[solver][frequencies]") {
    // a weight that stays on one end lifts the far pads
    Piece piece = invented_top();
    piece.supports = {pad({200, 100}), pad({200, 500}), pad({600, 100}), pad({600, 500}), pad({800, 300})};
    piece.loads = {{.name = "stays",
                    .duration = Duration::permanent,
                    .kind = LineLoad{.force = 300, .from = {400, 0}, .to = {400, 600}, .over = {}}}};
    const std::vector<double> loose = frequencies(piece);
    for (Support& support : piece.supports) std::get<Pad>(support.kind).hold_down = true;
    const std::vector<double> held = frequencies(piece);
    CHECK(loose[0] < 0.98 * held[0]);
}

TEST_CASE("a top of no known density has no frequency", "[solver][frequencies]") {
    Piece piece = on_four_pads();
    piece.top.elastic->density_kg_m3.reset();
    CHECK(frequencies(piece).empty());
}

TEST_CASE("a top that only lies slides free and still has its frequencies", "[solver][frequencies]") {
    // three motions in the plane cost nothing and are no natural frequencies
    const std::vector<double> found = frequencies(on_four_pads(), 6);
    REQUIRE(found.size() == 6);
    CHECK(found[0] > 5); // Hz: none of them is near zero
}
