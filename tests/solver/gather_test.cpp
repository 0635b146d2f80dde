// SPDX-License-Identifier: MIT
#include "solver/readout/gather.hpp"

#include "solver/model/make_model.hpp"
#include "solver/readout/mesh_error.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

struct Solved {
    std::shared_ptr<const Model> model;
    std::vector<ConnectedSituation> connected;
    std::vector<SolvedSituation> situations;
    Readings readings;
};

Solved solve(const Piece& piece, const ModelOptions& options = coarse()) {
    auto model = std::make_shared<const Model>(make_model(piece, options));
    Solved solved{.model = model,
                  .connected = connect_situations(piece, *model),
                  .situations = solve_situations(piece, *model),
                  .readings = readings_of(model->shell)};
    return solved;
}

Piece table() {
    Piece piece = invented_top();
    for (const Point& p : {Point{60, 60}, {940, 60}, {940, 540}, {60, 540}}) piece.supports.push_back(pad(p));
    for (std::size_t k = 0; k < 4; ++k) piece.supports[k].name = "leg " + std::to_string(k + 1);
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {150, 850, 120, 480}, .corner_radius = 0},
                       .depth = 15,
                       .root_radius = 0,
                       .lands = {}}};
    piece.loads = {spread(0.0004, Duration::long_term), patch_of(300, {480, 260}, 120, 90)};
    piece.self_weight = true;
    piece.probes = {{500, 300}, {30, 580}};
    return piece;
}

MeshError error_between(const Solved& low, const Solved& high) {
    OutputReader output_points;
    return mesh_error(*low.model, low.connected, output_points,
                      {.model = *high.model,
                       .solved = high.situations,
                       .readings = high.readings,
                       .readout = read_out(high.model, high.situations, high.readings)});
}

} // namespace

TEST_CASE("a response holds every situation with its supports, probes and stresses", "[solver][gather]") {
    const Piece piece = table();
    const Solved s = solve(piece);
    const Response response = gather_response(piece, s.model, s.situations, s.readings);
    REQUIRE(response.situations.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) {
        const SituationResponse& row = response.situations[i];
        CHECK(row.name == s.situations[i].plan.name);
        CHECK(row.applied_N == s.situations[i].applied.force);
        REQUIRE(row.supports.size() == 4);
        CHECK(row.supports[2].support == "leg 3");
        CHECK(row.supports[2].bearing_area_mm2 == 3600);
        CHECK(row.supports[2].pressure_MPa >=
              row.supports[2].force_N / 3600); // the greatest is no less than the mean
        CHECK(row.probes.size() == 2);
        CHECK(row.stress.survey.size() == s.readings.survey.size());
        CHECK(row.dish_mm.has_value());
        CHECK(row.dish_skin_mm == 15);
        CHECK(row.stress.at({500, 300}) != nullptr);
        CHECK(row.stress.at({-1, 300}) == nullptr);
    }
}

TEST_CASE("a probe reads against the plane through the supports, and the field's own stress",
          "[solver][gather]") {
    const Piece piece = table();
    const Solved s = solve(piece);
    const Response response = gather_response(piece, s.model, s.situations, s.readings);
    const SituationResponse& row = response.situations.back();
    const SupportPlane plane = support_plane(*s.model, s.situations.back());
    CHECK(row.probes[0].w_mm ==
          -movement_at(s.model->shell, s.situations.back().dofs, {500, 300}) - plane.at({500, 300}));
    CHECK(row.probes[0].w_mm <= row.sag_mm);
    const std::array<double, 3> bottom = row.stress.at({500, 300})->bottom;
    for (std::size_t i = 0; i < 3; ++i)
        CHECK_THAT(row.probes[0].stress_bottom_MPa[i], WithinAbs(bottom[i], 1e-11 * std::abs(bottom[0])));
}

TEST_CASE("after the years the same strain means less stress", "[solver][gather]") {
    const Piece piece = table();
    const Solved s = solve(piece);
    const SolvedSituation& years = s.situations[1];
    REQUIRE(years.plan.stage == Stage::years);
    const StrainMean mean = strain_mean(s.model->shell, {500, 300});
    const StressSample plain = stress_of(s.model->shell, mean, years.dofs),
                       soft = stress_in(s.model->shell, years, mean);
    for (std::size_t c = 0; c < 3; ++c) {
        CHECK_THAT(soft.bottom[c], WithinRel(plain.bottom[c] / 1.6, 1e-14));
        CHECK_THAT(soft.top[c], WithinRel(plain.top[c] / 1.6, 1e-14));
    }
    CHECK_THAT(soft.shear[0], WithinRel(plain.shear[0] / 1.6, 1e-14));
}

TEST_CASE("a mesh has no error against itself, and less of it when it is finer", "[solver][gather]") {
    const Piece piece = table();
    const Solved s = solve(piece);
    const MeshError none = error_between(s, s);
    CHECK(none.sag_percent < 1e-9); // both read the same polynomial
    CHECK(none.stress_percent < 1e-9);
    const auto error = [&](double largest) {
        ModelOptions options = coarse();
        options.shell.size = {
            .largest = largest, .at_walls = largest / 6, .at_edges = largest / 2, .growth = 0.7};
        options.shell.order = 2;
        const Solved low = solve(piece, options);
        options.shell.order = 3;
        const Solved high = solve(piece, options);
        return error_between(low, high);
    };
    const MeshError large = error(300), small = error(75);
    CHECK(small.sag_percent < large.sag_percent);
    CHECK(small.stress_percent < large.stress_percent);
}

TEST_CASE("a dish that nobody sees does not count as an error of the mesh", "[solver][gather]") {
    Piece piece = table();
    piece.supports = {edge({60, 0}, {60, 600}, true), edge({940, 0}, {940, 600}, true)};
    piece.loads = {spread(0.0004)};
    piece.recesses[0].depth = 6;
    ModelOptions options = coarse(2);
    const Solved low = solve(piece, options);
    options.shell.order = 3;
    const Solved high = solve(piece, options);
    const Response rough = gather_response(piece, low.model, low.situations, low.readings),
                   fine = gather_response(piece, high.model, high.situations, high.readings);
    double of_sag = 0, of_dish = 0,
           by_itself = 0; // %, twice, for the higher order's own error
    for (std::size_t i = 0; i < fine.situations.size(); ++i) {
        const SituationResponse &a = rough.situations[i], &b = fine.situations[i];
        REQUIRE(std::abs(*b.dish_mm) < 0.1 * b.sag_mm);
        of_sag = std::max(of_sag, 200 * std::abs(a.sag_mm - b.sag_mm) / b.sag_mm);
        of_dish = std::max(of_dish, 200 * std::abs(*a.dish_mm - *b.dish_mm) / (0.1 * b.sag_mm));
        by_itself = std::max(by_itself, 200 * std::abs(*a.dish_mm - *b.dish_mm) / std::abs(*b.dish_mm));
    }
    const double error = error_between(low, high).sag_percent;
    CHECK_THAT(error, WithinRel(std::max(of_sag, of_dish),
                                0.1)); // it reads both orders in one place, these each in its own worst
    CHECK(error < by_itself);
}

TEST_CASE("a pad without any force has let go", "[solver][gather]") {
    Piece piece = table();
    piece.self_weight = false;
    piece.recesses.clear();
    piece.supports = {edge({100, 0}, {100, 600}, true), edge({900, 0}, {900, 600}, true), pad({500, 300})};
    piece.loads = {
        {.name = "end", .kind = LineLoad{.force = 300, .from = {20, 0}, .to = {20, 600}, .over = {}}},
        {.name = "all", .kind = AreaLoad{.pressure = 0.001, .over = {}}}};
    const Solved s = solve(piece);
    const Response response = gather_response(piece, s.model, s.situations, s.readings);
    // the end pushed down past its line lifts the middle
    CHECK(response.situations[0].supports[2].lifts);
    CHECK(response.situations[0].supports[2].force_N == 0);
    CHECK(response.situations[0].supports[2].pressure_MPa == 0);
    CHECK_FALSE(response.situations[1].supports[2].lifts);
}
