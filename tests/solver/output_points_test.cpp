// SPDX-License-Identifier: MIT
#include "solver/readout/output_points.hpp"

#include "solver/model/make_model.hpp"
#include "solver/readout/gather.hpp"
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
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {150, 850, 120, 480}, .corner_radius = 20},
                       .depth = 15,
                       .root_radius = 0,
                       .lands = {}}};
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
    const std::vector<ConnectedSituation> connected = connect_situations(piece, model);
    const std::vector<SolvedSituation> solved = solve_situations(piece, model);
    REQUIRE(connected.size() == 3);
    std::vector<OutputPoint> output_points;
    for (const Point& at : {Point{500, 300}, {160, 130}, {480, 250}, {60, 60}})
        for (const OutputPoint::Kind kind :
             {OutputPoint::Kind::movement, OutputPoint::Kind::top, OutputPoint::Kind::bottom})
            for (const int axis : {0, 1}) output_points.push_back({.kind = kind, .axis = axis, .at = at});
    OutputReader reader;
    const auto values = reader.read(model, output_points, connected);
    double most_moved = 0, most_stress = 0;
    for (std::size_t pass = 0; pass < 2; ++pass)
        for (std::size_t k = 0; k < output_points.size(); ++k)
            for (std::size_t s = 0; s < connected.size(); ++s) {
                const OutputPoint& output_point = output_points[k];
                const StressSample stress =
                    stress_in(model.shell, solved[s], strain_mean(model.shell, output_point.at));
                const auto& face = output_point.kind == OutputPoint::Kind::top ? stress.top : stress.bottom;
                const double whole = output_point.kind == OutputPoint::Kind::movement
                                         ? movement_at(model.shell, solved[s].dofs, output_point.at)
                                         : face[static_cast<std::size_t>(output_point.axis)];
                double& most = output_point.kind == OutputPoint::Kind::movement ? most_moved : most_stress;
                if (pass == 0)
                    most = std::max(most, std::abs(whole)); // the scale of what is compared
                else
                    CHECK_THAT(values[k][s], WithinAbs(whole, 1e-7 * most));
            }
    // asked again, with others beside it and by itself
    CHECK(reader.read(model, std::vector<OutputPoint>{output_points[8]}, connected).front() == values[8]);
    OutputReader fresh;
    CHECK(fresh.read(model, std::vector<OutputPoint>{output_points[8]}, connected).front() == values[8]);
}
