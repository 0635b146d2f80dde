// SPDX-License-Identifier: MIT
#include "solver/situations/situations.hpp"

#include "solver/model/make_model.hpp"
#include "solver/situations/respond.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Load named(Load load, const std::string& name, LoadFor judged_for = LoadFor::everyday) {
    load.name = name;
    load.judged_for = judged_for;
    return load;
}

/// Own weight, books, a meal, a jug, someone who leans, a test's press and a push at the edge.
Piece set_table() {
    Piece piece = invented_top();
    piece.self_weight = true;
    for (const Point& p : {Point{60, 60}, {940, 60}, {940, 540}, {60, 540}}) piece.supports.push_back(pad(p));
    piece.loads = {named(spread(0.0005, Duration::long_term), "books"),
                   named(spread(0.0003, Duration::medium), "meal"),
                   named(patch_of(50, {500, 300}, 100, 100, Duration::medium), "jug"),
                   named(patch_of(300, {500, 100}, 100, 100), "lean"),
                   named(patch_of(1000, {500, 300}, 100, 100, Duration::minutes), "press", LoadFor::strength),
                   named(patch_of(400, {500, 40}, 50, 50, Duration::minutes), "push", LoadFor::stability)};
    return piece;
}

std::vector<std::string> names_of(const std::vector<SituationPlan>& plans) {
    std::vector<std::string> names;
    for (const SituationPlan& plan : plans) names.push_back(in_own_units(plan.name));
    return names;
}

std::vector<std::string> factors_of(const std::vector<SituationPlan>& plans, int of) {
    std::vector<std::string> factors;
    for (const SituationPlan& plan : plans)
        if (plan.design_of == of) factors.push_back(plan.factors);
    return factors;
}

} // namespace

TEST_CASE("each load comes alone on what stays, then what is medium together, then each shorter load with it",
          "[solver][situations]") {
    const Piece piece = set_table();
    const auto plans = plan_situations(piece, make_model(piece, coarse()));
    CHECK(names_of(plans) == std::vector<std::string>{"standing loads", "standing loads after the years",
                                                      "meal", "jug", "lean", "press", "push",
                                                      "meal and jug together", "lean, with meal and jug",
                                                      "press, with meal and jug"});
    CHECK(plans[4].loads == std::vector<ActingLoad>{{0, 1}, {1, 1}, {4, 1}});
    CHECK(plans[7].passing == -1);
    CHECK(plans[8].loads == std::vector<ActingLoad>{{0, 1}, {1, 1}, {2, 1}, {3, 1}, {4, 1}});
    CHECK(plans[8].duration == Duration::short_term); // of the shortest
    CHECK(plans[9].duration == Duration::minutes);
    CHECK(plans[8].judged_for == LoadFor::everyday);
    CHECK(plans[9].judged_for == LoadFor::strength);
    CHECK(plans[6].judged_for == LoadFor::stability);
    CHECK_FALSE(plans[9].counts_for_tipping); // there is a load for that
    CHECK(plans[4].counts_for_tipping);
    for (const SituationPlan& plan : plans) CHECK(plan.design_of == -1);
}

TEST_CASE("without a load for stability those for strength count for tipping", "[solver][situations]") {
    Piece piece = set_table();
    piece.loads.pop_back();
    for (const SituationPlan& plan : plan_situations(piece, make_model(piece, coarse())))
        CHECK(plan.counts_for_tipping);
}

TEST_CASE("on a strength class every load that changes leads in turn", "[solver][situations]") {
    // EN 1990 eq. 6.10: 1.35 G + 1.5 Q + 1.5 psi_0 Q, psi_0 1.0 of what is stored and 0.7 of the rest (table
    // A1.1)
    Piece piece = set_table();
    piece.allowables = {.basis = AllowablesBasis::strength_class, .strength_class = "C24"};
    const auto plans = plan_situations(piece, make_model(piece, coarse()));
    CHECK(factors_of(plans, 0) == std::vector<std::string>{"1.35 G + 1.5 books", "1.35 G"});
    CHECK(factors_of(plans, 1) == std::vector<std::string>{"1.35 G + 1.5 books"});
    CHECK(factors_of(plans, 4) ==
          std::vector<std::string>{"1.35 G + 1.5 books + 0.7 x 1.5 lean", "1.35 G + 1.5 books + 1.5 lean"});
    CHECK(factors_of(plans, 5) ==
          std::vector<std::string>{"1.35 G + 1.5 books + 1 press"}); // the force of a test acts once
    CHECK(factors_of(plans, 8) ==
          std::vector<std::string>{"1.35 G + 1.5 books + 0.7 x 1.5 meal + 0.7 x 1.5 jug + 0.7 x 1.5 lean",
                                   "1.35 G + 1.5 books + 1.5 meal + 0.7 x 1.5 jug + 0.7 x 1.5 lean",
                                   "1.35 G + 1.5 books + 0.7 x 1.5 meal + 1.5 jug + 0.7 x 1.5 lean",
                                   "1.35 G + 1.5 books + 0.7 x 1.5 meal + 0.7 x 1.5 jug + 1.5 lean"});
    CHECK(factors_of(plans, 9) ==
          std::vector<std::string>{"1.35 G + 1.5 books + 0.7 x 1.5 meal + 0.7 x 1.5 jug + 1 press"});
    for (const SituationPlan& plan : plans) {
        if (plan.design_of < 0) continue;
        CHECK(plan.slip == 1.5); // K_u = 2/3 K_ser
        CHECK(plan.creep_factor == plans[static_cast<std::size_t>(plan.design_of)].creep_factor);
        CHECK(plan.duration == (plan.factors == "1.35 G"
                                    ? Duration::permanent
                                    : plans[static_cast<std::size_t>(plan.design_of)].duration));
    }
}

TEST_CASE("what lies past the supports meets the least weight too, which may hold less of it down",
          "[solver][situations]") {
    Piece piece = set_table();
    piece.allowables = {.basis = AllowablesBasis::strength_class, .strength_class = "C24"};
    piece.loads = {named(patch_of(20, {15, 300}, 20, 20), "lamp")};
    CHECK(factors_of(plan_situations(piece, make_model(piece, coarse())), 2) ==
          std::vector<std::string>{"1.35 G + 1.5 lamp", "1 G + 1.5 lamp"});
}

TEST_CASE("the supports carry the factored loads of a design situation", "[solver][situations]") {
    Piece piece = set_table();
    piece.allowables = {.basis = AllowablesBasis::strength_class, .strength_class = "C24"};
    piece.loads = {named(spread(0.0005, Duration::long_term), "books"),
                   named(patch_of(300, {500, 100}, 100, 100), "lean")};
    const double G = 650e-9 * 1000 * 600 * 30 * 9.80665, books = 0.0005 * 1000 * 600, lean = 300;
    for (const SolvedSituation& s : solve_situations(piece, make_model(piece, coarse()))) {
        double carried = 0;
        for (const double force : s.support_force) carried += force;
        const double g = s.plan.design_of < 0 ? 1 : 1.35, q = s.plan.design_of < 0         ? 1
                                                              : s.plan.factors == "1.35 G" ? 0
                                                                                           : 1.5;
        const double l = s.plan.passing < 0                                ? 0
                         : s.plan.design_of < 0                            ? 1
                         : s.plan.factors.find("0.7") == std::string::npos ? 1.5
                                                                           : 1.05;
        CHECK_THAT(carried, WithinRel(g * G + q * books + l * lean, 1e-8));
        CHECK_THAT(s.applied.force, WithinRel(carried, 1e-8));
        CHECK(s.equilibrium_error < 1e-8);
    }
}

TEST_CASE("a top rests on the outer corners of what is under it", "[solver][situations]") {
    Piece piece = invented_top();
    piece.supports = {pad({100, 100}), pad({900, 100}), pad({500, 590})}; // the last sticks out by 20 mm
    const std::vector<Point> hull = convex_hull(resting_places(make_model(piece, coarse())));
    const std::vector<Point> expected{{70, 70}, {930, 70}, {930, 130}, {530, 600}, {470, 600}, {70, 130}};
    REQUIRE(hull.size() == expected.size());
    for (std::size_t k = 0; k < hull.size(); ++k) {
        CHECK_THAT(hull[k].x, WithinAbs(expected[k].x, 1e-9));
        CHECK_THAT(hull[k].y, WithinAbs(expected[k].y, 1e-9));
    }
}
