// SPDX-License-Identifier: MIT
// What follows from equilibrium and from straight-line behaviour, whatever the piece.
#include "tests/properties/pieces_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// As in invariance_test.cpp: what rounding leaves of a movement where stretch is 1e7 times stiffer than
/// bending.
constexpr double rounding = 1e-8;

/// Held both ways, so that nothing opens and everything is proportional.
Piece held_top() {
    Piece piece = crooked_top();
    for (Support& support : piece.supports) std::get<Pad>(support.kind).hold_down = true;
    return piece;
}

double dot(const std::vector<double>& a, const std::vector<double>& b) {
    return std::inner_product(a.begin(), a.end(), b.begin(), 0.0);
}

} // namespace

TEST_CASE("supports carry the loads, forces and moments alike", "[properties][equilibrium]") {
    std::vector<Piece> pieces{crooked_top(), held_top()};
    Piece beam = bare_top();
    beam.supports = {knife_edge({100, 0}, {100, 600}, true), knife_edge({900, 0}, {900, 600}, false)};
    pieces.push_back(beam);
    Piece wall = bare_top();
    wall.supports = {{.name = "wall", .kind = BuiltIn{.from = {0, 0}, .to = {0, 600}}}};
    pieces.push_back(wall);
    Piece bearers = crooked_top();
    bearers.supports = {
        {.name = "left", .kind = Bearer{.from = {120, 80}, .to = {160, 500}, .width = 30, .stiffness = {}}},
        {.name = "right", .kind = Bearer{.from = {850, 80}, .to = {850, 500}, .width = 40, .stiffness = {}}}};
    pieces.push_back(bearers);
    for (const Piece& piece : pieces) {
        const Answer answer = answer_of(piece);
        for (const SolvedSituation& s : answer.solved) {
            INFO(in_own_units(s.plan.name));
            CHECK(s.equilibrium_error < 1e-8); // of the load, moments over the top's length
            CHECK_THAT(std::accumulate(s.support_force.begin(), s.support_force.end(), 0.0),
                       WithinRel(s.applied.force, 1e-8));
            CHECK(s.residual < 1e-8);
        }
    }
}

TEST_CASE("loads together do what they do one by one", "[properties][superposition]") {
    Piece all = held_top();
    all.self_weight = false;
    for (Load& load : all.loads) load.duration = Duration::long_term; // one situation holds all three
    const Answer together = answer_of(all);
    std::vector<double> sum(together.solved[0].dofs.size(), 0);
    for (std::size_t k = 0; k < all.loads.size(); ++k) {
        Piece single = all;
        single.loads = {all.loads[k]};
        const Answer alone =
            answer_of(single, ModelOptions{.shell = together.model->shell.order == 3 ? coarse_mesh(all).shell
                                                                                     : ShellOptions{},
                                           .threads = 1});
        REQUIRE(alone.solved[0].dofs.size() ==
                sum.size()); // the slanting line load wants no mesh line of its own
        for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += alone.solved[0].dofs[i];
    }
    double greatest = 0, difference = 0;
    for (std::size_t i = 2; i < sum.size(); i += dofs_per_node) {
        greatest = std::max(greatest, std::abs(sum[i]));
        difference = std::max(difference, std::abs(sum[i] - together.solved[0].dofs[i]));
    }
    CHECK(difference < rounding * greatest);
}

TEST_CASE("twice the load moves a top twice as far, even one that lies loose",
          "[properties][superposition]") {
    // contact opens the same way under a load and its double
    Piece piece = crooked_top();
    piece.self_weight = false;
    Piece twice = piece;
    std::get<AreaLoad>(twice.loads[0].kind).pressure *= 2;
    std::get<PatchLoad>(twice.loads[1].kind).force *= 2;
    std::get<LineLoad>(twice.loads[2].kind).force *= 2;
    const Answer one = answer_of(piece), two = answer_of(twice);
    for (std::size_t i = 0; i < one.solved.size(); ++i) {
        CHECK_THAT(two.response.situations[i].sag_mm,
                   WithinRel(2 * one.response.situations[i].sag_mm, rounding));
        CHECK(two.solved[i].point_presses == one.solved[i].point_presses);
    }
}

TEST_CASE("a force at one place moves another as the other would move it", "[properties][betti]") {
    // Betti 1872, on a hollowed top with grain aslant; points in rim, skin and land
    Piece piece = held_top();
    piece.self_weight = false;
    const Point places[] = {{30, 580}, {400, 400}, {345, 255}, {815, 300}};
    double movement[4][4];
    for (std::size_t a = 0; a < 4; ++a) {
        piece.loads = {patch_load(100, places[a], 0, 0)};
        piece.probes.assign(std::begin(places), std::end(places));
        const Answer answer = answer_of(piece);
        // of the top itself: a probe reads against the plane through its supports
        for (std::size_t b = 0; b < 4; ++b)
            movement[a][b] = movement_at(answer.model->shell, answer.solved[0].dofs, places[b]);
    }
    for (std::size_t a = 0; a < 4; ++a)
        for (std::size_t b = 0; b < a; ++b)
            CHECK_THAT(movement[a][b], WithinAbs(movement[b][a], rounding * std::abs(movement[a][a])));
}

TEST_CASE("a load and its movement make twice the energy stored", "[properties][energy]") {
    // f'u = u'Ku + what the supports' own springs take
    Piece piece = held_top();
    const Answer answer = answer_of(piece);
    for (const SolvedSituation& s : answer.solved) {
        if (s.plan.creep_factor != 1) continue;
        std::vector<double> load(s.dofs.size(), 0), force(s.dofs.size());
        for (const ActingLoad& acting : s.plan.loads)
            for (std::size_t i = 0; i < load.size(); ++i)
                load[i] +=
                    acting.factor * answer.model->loads[static_cast<std::size_t>(acting.load)].forces[i];
        multiply(answer.model->shell.stiffness, s.dofs, force);
        double springs = 0;
        for (std::size_t k = 0; k < s.point_force.size(); ++k)
            springs += s.point_force[k] * s.point_force[k] * answer.model->points[k].compliance;
        CHECK_THAT(dot(s.dofs, force) + springs, WithinRel(dot(s.dofs, load), rounding));
    }
}

TEST_CASE("without any load nothing moves", "[properties]") {
    Piece piece = held_top();
    piece.self_weight = false;
    piece.loads = {area_load(0)};
    const Answer answer = answer_of(piece);
    CHECK(answer.response.situations[0].applied_N == 0);
    for (const double v : answer.solved[0].dofs) REQUIRE(v == 0);
}

TEST_CASE("after the years a held top has sunk 1 + k_def times as far under the same stress",
          "[properties][creep]") {
    // EN 1995-1-1 2.3.2.2 with k_def 0.6 for solid timber in service class 1 (table 3.2); nothing but wood
    // gives here
    Piece piece = crooked_top();
    piece.supports = {knife_edge({100, 0}, {100, 600}, true), knife_edge({900, 0}, {900, 600}, true)};
    const Answer answer = answer_of(piece);
    REQUIRE(answer.solved[1].plan.stage == Stage::years);
    const SituationResponse &now = answer.response.situations[0], &years = answer.response.situations[1];
    CHECK_THAT(years.sag_mm, WithinRel(1.6 * now.sag_mm, rounding));
    for (std::size_t c = 0; c < 3; ++c)
        CHECK_THAT(years.probes[0].stress_bottom_MPa[c],
                   WithinRel(now.probes[0].stress_bottom_MPa[c], rounding));
    for (std::size_t c = 0; c < 3; ++c)
        CHECK_THAT(years.probes[0].moment_N[c], WithinRel(now.probes[0].moment_N[c], rounding));
    CHECK_THAT(years.supports[0].force_N, WithinRel(now.supports[0].force_N, rounding));
}
