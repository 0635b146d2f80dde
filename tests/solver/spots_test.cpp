// SPDX-License-Identifier: MIT
#include "solver/analysis/gather.hpp"
#include "solver/analysis/spots.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;

TEST_CASE("what is read at single places is what the solved top has there", "[solver][spots]") {
    const bool with_bars = GENERATE(true, false);
    CAPTURE(with_bars);
    Piece piece = invented_top();
    for (const Point& p : {Point{60, 60}, {940, 60}, {940, 540}, {60, 540}}) piece.supports.push_back(pad(p));
    piece.recesses = {{.name = "well", .shape = RectangleShape{.box = {150, 850, 120, 480}, .corner_radius = 20}, .depth = 15, .root_radius = 0, .lands = {}}};
    piece.loads = {spread(0.0004, Duration::long_term), patch_of(300, {480, 260}, 120, 90)};
    piece.self_weight = true;
    if (with_bars) {
        Stiffener bar;
        bar.name = "bar";
        bar.section = "angle 25x25x3";
        bar.metal = "S235";
        bar.from = {200, 250};
        bar.to = {800, 250};
        bar.screws.diameter = 4;
        bar.screws.length = 16;
        bar.screws.spacing = 120;
        piece.stiffeners.push_back(bar);
    }
    const Model model = make_model(piece, coarse());
    const std::vector<TiedSituation> tied = tie_situations(piece, model);
    const std::vector<SolvedSituation> solved = solve_situations(piece, model);
    REQUIRE(tied.size() == 3);
    std::vector<Spot> spots;
    for (const Point& at : {Point{500, 300}, {160, 130}, {480, 250}, {60, 60}})
        for (const Spot::Kind kind : {Spot::Kind::movement, Spot::Kind::top, Spot::Kind::bottom})
            for (const int axis : {0, 1}) spots.push_back({.kind = kind, .axis = axis, .at = at});
    SpotReader reader;
    const auto values = reader.read(model, spots, tied);
    double most_moved = 0, most_stress = 0;
    for (std::size_t pass = 0; pass < 2; ++pass)
        for (std::size_t k = 0; k < spots.size(); ++k)
            for (std::size_t s = 0; s < tied.size(); ++s) {
                const Spot& spot = spots[k];
                const StressSample stress = stress_in(model.shell, solved[s], strain_mean(model.shell, spot.at));
                const auto& face = spot.kind == Spot::Kind::top ? stress.top : stress.bottom;
                const double whole = spot.kind == Spot::Kind::movement ? movement_at(model.shell, solved[s].dofs, spot.at) : face[static_cast<std::size_t>(spot.axis)];
                double& most = spot.kind == Spot::Kind::movement ? most_moved : most_stress;
                if (pass == 0) most = std::max(most, std::abs(whole)); // the scale of what is compared
                else CHECK_THAT(values[k][s], WithinAbs(whole, 1e-7 * most));
            }
    // asked again, with others beside it and by itself
    CHECK(reader.read(model, std::vector<Spot>{spots[8]}, tied).front() == values[8]);
    SpotReader fresh;
    CHECK(fresh.read(model, std::vector<Spot>{spots[8]}, tied).front() == values[8]);
}
