// SPDX-License-Identifier: MIT
#include "solver/situations/respond.hpp"

#include "materials/error.hpp"
#include "solver/model/make_model.hpp"
#include "solver/situations/proof_of_solve.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace hollowtop;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// Equilibrium is kept to rounding; movements of this plate lose some seven digits of it
/// (invariance_test.cpp).
constexpr double rounding = 1e-8;

std::vector<SolvedSituation> solve(const Piece& piece) {
    return solve_situations(piece, make_model(piece, coarse()));
}

std::string refusal(const Piece& piece) {
    try {
        (void)solve(piece);
    } catch (const Error& error) {
        CHECK(error.kind() == ErrorKind::not_computable);
        CHECK(error.faults().front().place == "supports");
        return in_own_units(error.faults().front().what);
    }
    return "no error";
}

Piece on_pads(std::vector<Point> places) {
    Piece piece = invented_top();
    for (const Point& p : places) piece.supports.push_back(pad(p));
    return piece;
}

} // namespace

TEST_CASE("standing loads come at once and after the years, then each passing load with them",
          "[solver][respond]") {
    Piece piece = on_pads({{60, 60}, {940, 60}, {940, 540}, {60, 540}});
    piece.self_weight = true;
    piece.loads = {spread(0.0005, Duration::long_term), patch_of(300, {500, 300}, 100, 100, Duration::medium),
                   patch_of(500, {500, 80}, 100, 100, Duration::instantaneous)};
    piece.loads[2].name = "fall";
    const auto plans = plan_situations(piece, make_model(piece, coarse()));
    REQUIRE(plans.size() == 5);
    CHECK(plans[0].name == "standing loads");
    CHECK(plans[0].stage == Stage::at_once);
    CHECK(plans[0].duration == Duration::long_term);
    CHECK(plans[0].loads == std::vector<ActingLoad>{{0, 1}, {1, 1}});
    CHECK(plans[1].name == "standing loads after the years");
    CHECK(plans[1].stage == Stage::years);
    CHECK_THAT(plans[1].creep_factor,
               WithinRel(1.6, 1e-12)); // EN 1995-1-1 table 3.2, solid timber, service class 1
    CHECK(plans[2].name == "patch");
    CHECK(plans[2].duration == Duration::medium);
    CHECK(plans[2].loads == std::vector<ActingLoad>{{0, 1}, {1, 1}, {2, 1}});
    CHECK(plans[3].name == "fall");
    CHECK(plans[3].passing == 3);
    CHECK(plans[3].creep_factor == 1);
    CHECK(plans[4].name == "fall, with patch");
    CHECK(plans[4].duration == Duration::instantaneous);
    CHECK(plans[4].loads == std::vector<ActingLoad>{{0, 1}, {1, 1}, {2, 1}, {3, 1}});
    CHECK(plans[4].passing == 3);
}

TEST_CASE("a single load without weight is the first and only situation", "[solver][respond]") {
    Piece piece = on_pads({{60, 60}, {940, 60}, {940, 540}, {60, 540}});
    piece.loads = {spread(0.001)};
    const auto plans = plan_situations(piece, make_model(piece, coarse()));
    REQUIRE(plans.size() == 1);
    CHECK(plans[0].name == "spread");
    CHECK(plans[0].stage == Stage::passing);
}

TEST_CASE("a top on two knife edges shares its load as the lever says", "[solver][respond]") {
    for (const bool hold : {true, false}) {
        Piece piece = invented_top();
        piece.supports = {edge({100, 0}, {100, 600}, hold), edge({900, 0}, {900, 600}, hold)};
        piece.loads = {patch_of(400, {300, 250}, 60, 60)};
        const auto solved = solve(piece);
        CHECK_THAT(solved[0].support_force[0], WithinRel(400 * 600.0 / 800, rounding));
        CHECK_THAT(solved[0].support_force[1], WithinRel(400 * 200.0 / 800, rounding));
        CHECK(solved[0].equilibrium_error < rounding);
    }
}

TEST_CASE("three pads carry what the lever gives each, however stiff their beds", "[solver][respond]") {
    // statically determinate as long as every pad bears evenly enough: forces at the pads' middles would be
    // exact, tiles shift them within the pad, at most half a side over the distance between pads
    Piece piece = on_pads({{100, 100}, {900, 100}, {500, 500}});
    piece.loads = {patch_of(300, {500, 300}, 50, 50)};
    const auto solved = solve(piece);
    CHECK_THAT(solved[0].support_force[2], WithinAbs(150, 300 * 30.0 / 400));
    CHECK_THAT(solved[0].support_force[0], WithinRel(solved[0].support_force[1], 1e-7)); // mirror
    CHECK_THAT(solved[0].support_force[0] + solved[0].support_force[1] + solved[0].support_force[2],
               WithinRel(300, rounding));
}

TEST_CASE("a bed gives under its load by force over stiffness", "[solver][respond]") {
    // four equal pads under an even load: where a tile presses its mean movement is force over bed stiffness;
    // elsewhere the top is off it
    Piece piece = invented_top();
    for (const Point& p : {Point{60, 60}, {940, 60}, {940, 540}, {60, 540}})
        piece.supports.push_back(pad(p, 60, false, 0.5));
    piece.loads = {spread(0.001)};
    const Model model = make_model(piece, coarse());
    const auto solved = solve_situations(piece, model);
    const std::vector<double> at = at_points(model.columns->forces, solved[0].dofs);
    double force = 0;
    int pressing = 0;
    for (std::size_t k = 0; k < model.points.size(); ++k) {
        force += solved[0].point_force[k];
        pressing += solved[0].point_force[k] > 0;
        if (solved[0].point_force[k] > 0)
            CHECK_THAT(-at[k], WithinAbs(solved[0].point_force[k] * model.points[k].compliance, 1e-9)); // mm
        else
            CHECK(at[k] >= 0);
    }
    CHECK(pressing >= 4 * 4);
    CHECK_THAT(force, WithinRel(0.001 * 1000 * 600, 1e-9));
}

TEST_CASE("one solve is as good as one that is refined, and the model knows how good", "[solver][respond]") {
    Piece piece = on_pads({{60, 60}, {940, 60}, {940, 540}, {60, 540}});
    piece.loads = {spread(0.001, Duration::long_term), patch_of(200, {480, 260}, 100, 80)};
    piece.self_weight = true;
    Model model = make_model(piece, coarse());
    CHECK(model.solve_error > 1e-16);
    CHECK(model.solve_error < 1e-9);
    const auto once = solve_situations(piece, model);
    model.solve_error = 1; // nothing known: rounds of refinement
    const auto refined = solve_situations(piece, model);
    REQUIRE(once.size() == 3);
    for (std::size_t s = 0; s < once.size(); ++s) {
        double most = 0, apart = 0;
        for (std::size_t i = 2; i < once[s].dofs.size(); i += dofs_per_node) {
            most = std::max(most, std::abs(refined[s].dofs[i]));
            apart = std::max(apart, std::abs(refined[s].dofs[i] - once[s].dofs[i]));
        }
        CHECK(apart > 0);
        CHECK(apart < 1e-8 * most);
        CHECK(once[s].residual < 1e-8);
    }
}

TEST_CASE("one bad answer among many is seen in what is left of their sum", "[solver][respond]") {
    Piece piece = on_pads({{60, 60}, {940, 60}, {940, 540}, {60, 540}});
    piece.loads = {spread(0.001, Duration::long_term), patch_of(200, {480, 260}, 100, 80)};
    piece.self_weight = true;
    const Model model = make_model(piece, coarse());
    REQUIRE(is_proved_at_once(model));
    const std::vector<ConnectedSituation> connected = connect_situations(piece, model);
    std::vector<double> answered = connection_forces_of(model, connected);
    model.factor->solve(answered, static_cast<int>(connected.size()));
    add_moved_by_loads(model, connected, answered);
    const auto residual = [&](bool with_a_bad_one) {
        SumOfAnswers sum;
        for (int k = 0; k < 16; ++k) {
            std::vector<double> own(answered);
            if (with_a_bad_one && k == 7)
                for (std::size_t i = 0; i < own.size() / connected.size(); ++i)
                    own[i] *= 1.001; // the first situation alone
            sum.add(model, connected, own);
        }
        return sum.residual(model);
    };
    CHECK(residual(false) < 1e-11);
    CHECK(residual(true) > 1e-7);
    answered.front() = std::numeric_limits<double>::quiet_NaN();
    CHECK_FALSE(residual(false) < 1e-9);
    CHECK_THROWS_AS(finish_situations(model, connected, answered), Error);
}

TEST_CASE("a guess of what presses changes no number", "[solver][respond]") {
    Piece piece = on_pads({{60, 60}, {940, 60}, {940, 540}, {60, 540}});
    piece.loads = {patch_of(900, {940, 300}, 60, 60), spread(0.001, Duration::long_term)};
    const Model model = make_model(piece, coarse());
    const std::vector<ConnectedSituation> cold = connect_situations(piece, model);
    std::vector<std::vector<char>> good = pressing_of(cold), bad = good;
    for (std::vector<char>& row : bad)
        for (std::size_t i = 0; i < row.size(); i += 2) row[i] ^= 1;
    bad.back().pop_back(); // of another mesh: not taken
    for (const auto& guess : {good, bad}) {
        const std::vector<ConnectedSituation> warm = connect_situations(piece, model, guess);
        REQUIRE(warm.size() == cold.size());
        for (std::size_t s = 0; s < cold.size(); ++s) {
            CHECK(warm[s].answer.presses == cold[s].answer.presses);
            for (std::size_t i = 0; i < cold[s].answer.force.size(); ++i)
                CHECK_THAT(warm[s].answer.force[i], WithinAbs(cold[s].answer.force[i], 1e-9));
        }
    }
}

TEST_CASE("a load past the pads tips a top that only lies, about the line it names", "[solver][respond]") {
    Piece piece = on_pads({{200, 100}, {800, 100}, {800, 500}, {200, 500}});
    piece.loads = {patch_of(100, {960, 300}, 40, 40)};
    // about the pads' outer edges, 30 mm from their middles
    CHECK(refusal(piece) ==
          "under \"patch\" the top tips about the line from x 830 mm, y 70 mm to x 830 mm, y 530 mm");
    piece.self_weight = true;
    const double weight = 650e-9 * 1000 * 600 * 30 * 9.80665;
    const double share = weight * 330 / (100 * 130);
    REQUIRE(share > 1); // held by its weight
    const auto solved = solve(piece);
    REQUIRE(solved.back().tipping_factor);
    CHECK_THAT(*solved.back().tipping_factor,
               WithinRel(share, 1e-6)); // the patch's force is exact to rounding
    piece.loads = {patch_of(500, {960, 300}, 40, 40)};
    // five times the load tips it: what is set down is what the outermost tiles balance where they press,
    // less a thousandth
    const Model model = make_model(piece, coarse());
    double outermost = 0;
    for (const ContactPoint& point : model.points) outermost = std::max(outermost, point.at.x);
    CHECK(outermost > 815);
    CHECK(outermost <= 830);
    const auto tipped = solve_situations(piece, model);
    REQUIRE(tipped.size() == 3);
    CHECK_THAT(tipped[2].plan.set_down,
               WithinRel(0.999 * weight * (outermost - 500) / (500 * (960 - outermost)),
                         1e-3)); // halved to 1/8192 of the load
    CHECK_THAT(*tipped[2].tipping_factor, WithinRel(share / 5, 1e-6));
    CHECK_THAT(tipped[2].applied.force, WithinRel(weight + tipped[2].plan.set_down * 500, 1e-6));
    CHECK(tipped[0].plan.set_down == 1);
    CHECK(solved.back().plan.set_down == 1);
}

TEST_CASE("a pad that holds down keeps the top from tipping, and no factor is told", "[solver][respond]") {
    Piece piece = on_pads({{800, 100}, {800, 500}});
    piece.supports.push_back(pad({200, 300}, 60, true));
    piece.loads = {patch_of(100, {960, 300}, 40, 40)};
    const auto solved = solve(piece);
    // by the lever, with either pad's force anywhere among its tiles, 22.5 mm to each side of its middle
    CHECK(-solved[0].support_force[2] > 100 * 137.5 / 645);
    CHECK(-solved[0].support_force[2] < 100 * 182.5 / 555);
    CHECK_FALSE(solved[0].tipping_factor);
}

TEST_CASE("a top on nothing is refused in plain words", "[solver][respond]") {
    Piece piece = invented_top();
    piece.loads = {spread(0.001)};
    CHECK(refusal(piece) == "nothing holds the top");
}

TEST_CASE("a top on one line of feet is refused", "[solver][respond]") {
    Piece piece = invented_top();
    piece.supports = {edge({500, 0}, {500, 600})};
    piece.loads = {patch_of(100, {700, 300}, 40, 40)};
    CHECK_THAT(refusal(piece), Contains("the top tips"));
}

TEST_CASE("forces at single points add up to the supports' forces", "[solver][respond]") {
    Piece piece = on_pads({{60, 60}, {940, 60}, {940, 540}, {60, 540}});
    piece.loads = {patch_of(300, {420, 200}, 100, 100)};
    const Model model = make_model(piece, coarse());
    const auto solved = solve_situations(piece, model);
    std::vector<double> sums(4, 0);
    for (std::size_t k = 0; k < model.points.size(); ++k) {
        CHECK(solved[0].point_force[k] >= 0);
        CHECK((solved[0].point_presses[k] || solved[0].point_force[k] == 0));
        sums[static_cast<std::size_t>(model.points[k].support)] += solved[0].point_force[k];
    }
    for (std::size_t k = 0; k < 4; ++k) CHECK_THAT(sums[k], WithinRel(solved[0].support_force[k], 1e-12));
}
