// SPDX-License-Identifier: MIT
#include "solver/model/model.hpp"

#include "materials/error.hpp"
#include "solver/model/make_model.hpp"
#include "solver/model/rigid_motions.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

std::size_t free_motions(std::vector<Support> supports) {
    Piece piece = invented_top();
    piece.supports = std::move(supports);
    return free_rigid_motions(make_unfactored_model(piece, coarse()).shell).size();
}

Support held(Point from, Point to, Held what) {
    what.from = from;
    what.to = to;
    return {.name = "held", .kind = what};
}

} // namespace

TEST_CASE("what a held line leaves free is counted right", "[solver][model]") {
    CHECK(free_motions({pad({500, 300})}) == 6); // pads are no part of the shell
    const Point a{0, 0}, b{0, 600}, c{1000, 0}, d{1000, 600};
    CHECK(free_motions({held(a, b, {.from = {}, .to = {}, .down = true})}) ==
          4); // three in the plane, turning about the line
    CHECK(free_motions({held(a, b, {.from = {}, .to = {}, .down = true}),
                        held(c, d, {.from = {}, .to = {}, .down = true})}) == 3); // the plane
    CHECK(free_motions({held(a, b, {.from = {}, .to = {}, .down = true, .tilt = true})}) == 3);
    CHECK(free_motions({held(a, b, {.from = {}, .to = {}, .down = true, .across = true}),
                        held(c, d, {.from = {}, .to = {}, .down = true})}) == 1); // along the line
    CHECK(free_motions({held(a, b, {.from = {}, .to = {}, .along = true, .across = true})}) ==
          3); // up and both tilts ...
    CHECK(free_motions({{.name = "wall", .kind = BuiltIn{.from = a, .to = b}}}) == 0);
    CHECK(free_motions({held({200, 100}, {240, 500}, {.from = {}, .to = {}, .down = true})}) ==
          4); // aslant, by springs
}

TEST_CASE("the free rigid motions move no held dof and bend nothing", "[solver][model]") {
    Piece piece = invented_top();
    piece.supports = {
        held({0, 0}, {0, 600}, {.from = {}, .to = {}, .down = true, .across = true, .level = Level::bottom}),
        held({850, 50}, {850, 550}, {.from = {}, .to = {}, .down = true})};
    const Model model = make_unfactored_model(piece, coarse());
    const auto motions = free_rigid_motions(model.shell);
    REQUIRE(motions.size() == 1);
    double stiffest = 0;
    for (const auto& matrix : model.shell.stiffness.classes)
        stiffest = std::max(stiffest, largest_of(matrix));
    for (const auto& motion : motions) {
        for (const auto& [dof, support] : model.shell.held_dof_support)
            CHECK(motion[static_cast<std::size_t>(dof)] == 0);
        GridStiffness loose = model.shell.stiffness;
        loose.held.clear();
        std::vector<double> force(motion.size());
        multiply(loose, motion, force);
        CHECK(largest_of(force) < 1e-12 * stiffest * largest_of(motion)); // rounding
    }
}

TEST_CASE("a movement in the plane takes no work from a weight, to the last bit", "[solver][model]") {
    // two lines that hold w, one of them also across it: rounding once gave the motion left a trace of w, and
    // the weight drove it
    Piece piece = invented_top();
    piece.supports = {
        held({208.401, 151.8}, {208.401, 354.2}, {.from = {}, .to = {}, .down = true, .across = true}),
        held({658.564, 151.8}, {658.564, 354.2}, {.from = {}, .to = {}, .down = true, .level = Level::top})};
    for (const auto& motion : free_rigid_motions(make_unfactored_model(piece, coarse()).shell))
        for (std::size_t dof = 2; dof < motion.size(); dof += dofs_per_node) REQUIRE(motion[dof] == 0);
}

TEST_CASE("as many dofs are pinned as motions are free", "[solver][model]") {
    for (const auto& supports : {std::vector<Support>{pad({500, 300})},
                                 {held({0, 0}, {0, 600}, {.from = {}, .to = {}, .down = true})},
                                 {{.name = "wall", .kind = BuiltIn{.from = {0, 0}, .to = {0, 600}}}}}) {
        Piece piece = invented_top();
        piece.supports = supports;
        const Model model = make_model(piece, coarse());
        CHECK(model.pins.size() == model.rigid.size());
        CHECK(std::adjacent_find(model.pins.begin(), model.pins.end()) == model.pins.end());
    }
}

TEST_CASE("the flexibility at the supports is symmetric and never negative on the diagonal",
          "[solver][model]") {
    Piece piece = invented_top();
    piece.supports = {pad({60, 60}), pad({940, 60}), pad({500, 540})};
    const Model model = make_model(piece, coarse());
    const std::size_t n = static_cast<std::size_t>(model.columns->forces.count());
    REQUIRE(model.columns->compliance.size() == n * n);
    const double greatest = largest_of(model.columns->compliance);
    for (std::size_t i = 0; i < n; ++i) {
        CHECK(model.columns->compliance[i * n + i] >= 0); // nothing at a pinned point
        for (std::size_t j = 0; j < i; ++j)
            CHECK_THAT(model.columns->compliance[i * n + j],
                       WithinAbs(model.columns->compliance[j * n + i], 1e-9 * greatest));
    }
    // a column of it is what a unit force does
    std::vector<double> unit(static_cast<std::size_t>(model.factor->n_dofs()), 0);
    for (int k = model.columns->forces.start[3]; k < model.columns->forces.start[4]; ++k)
        unit[static_cast<std::size_t>(model.columns->forces.dof[static_cast<std::size_t>(k)])] =
            model.columns->forces.value[static_cast<std::size_t>(k)];
    model.factor->solve(unit, 1);
    const std::vector<double> moved = at_points(model.columns->forces, unit);
    for (std::size_t i = 0; i < n; ++i)
        CHECK_THAT(model.columns->compliance[3 * n + i],
                   WithinAbs(moved[i], 1e-8 * greatest)); // pins at three corners: 1e7 lost
}

TEST_CASE("own weight comes first where it counts, then the loads as drawn", "[solver][model]") {
    Piece piece = invented_top();
    piece.supports = {pad({60, 60}), pad({940, 60}), pad({500, 540})};
    piece.loads = {spread(0.001), patch_of(100, {500, 300}, 50, 50)};
    CHECK(make_model(piece, coarse()).loads.size() == 2);
    piece.self_weight = true;
    const Model model = make_model(piece, coarse());
    REQUIRE(model.loads.size() == 3);
    CHECK(model.loads[0].duration == Duration::permanent);
    CHECK(model.loads[0].points.empty());
    CHECK(model.loads[1].name == "spread");
    CHECK(model.loads[2].name == "patch");
}

TEST_CASE("a line load along a side becomes a mesh line", "[solver][model]") {
    Piece piece = invented_top();
    piece.loads = {
        {.name = "line", .kind = LineLoad{.force = 1, .from = {433.3, 100}, .to = {433.3, 500}, .over = {}}}};
    const Model model = make_unfactored_model(piece, coarse());
    CHECK(std::any_of(model.shell.mesh.xs.begin(), model.shell.mesh.xs.end(),
                      [](double x) { return std::abs(x - 433.3) < 1e-9; }));
}

TEST_CASE("a sheet of stated constants stands on its modulus across the grain, a wood on its own",
          "[solver][model]") {
    Piece piece = invented_top();
    CHECK(through_thickness_modulus(piece) == 800);
    piece.top.elastic.reset();
    piece.top.wood = "oak_white";
    piece.top.ring_angle_deg = 0;
    const double flat = through_thickness_modulus(piece);
    piece.top.ring_angle_deg = 90;
    CHECK(flat > through_thickness_modulus(
                     piece)); // radial is stiffer than tangential in every wood of the handbook
}
