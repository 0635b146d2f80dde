// SPDX-License-Identifier: MIT
#include "solver/check/check_piece.hpp"
#include "tests/solver/checks_for_tests.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace hollowtop;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinRel;

namespace {

Response pulled_with(double force, Duration duration) {
    SituationResponse one = situation("someone leans", Stage::passing, duration);
    for (int k = 0; k < 4; ++k)
        one.supports.push_back({.support = "pad " + std::to_string(k + 1),
                                .centre = {1.0 * k, 0},
                                .pressure_at = {},
                                .pull_N = k == 2 ? force : 0});
    return response_of(one);
}

Pad& third(Piece& piece) { return std::get<Pad>(piece.supports[2].kind); }

/// 1000 x 25, on two bearers 400 apart, a load on the end that overhangs; the far bearer holds it down.
Piece overhanging(double width = 500, double across_load = 60) {
    Piece piece = plain_piece(1000, width, 25);
    piece.top.elastic.reset();
    piece.top.wood = "oak_white";
    piece.self_weight = true;
    for (const double x : {100.0, 500.0})
        piece.supports.push_back(
            {.name = "bearer at " + std::to_string(static_cast<int>(x)),
             .kind = Bearer{.from = {x, 0}, .to = {x, width}, .width = 40, .stiffness = {}}});
    std::get<Bearer>(piece.supports[0].kind).hold_down = true;
    piece.loads = {
        {.name = "lean",
         .duration = Duration::short_term,
         .kind = PatchLoad{
             .force = 300, .at = {960, width / 2}, .size_x = 60, .size_y = across_load, .over = {}}}};
    return piece;
}

Result checked(const Piece& piece) {
    CheckOptions options;
    options.mesh = CheckOptions::Mesh::coarse;
    options.threads = 1;
    return check_piece(piece, options).result;
}

const CheckResult* find(const Result& result, const std::string& check, const std::string& situation) {
    const auto row = std::find_if(result.checks.begin(), result.checks.end(), [&](const CheckResult& r) {
        return r.check == check && r.situation == situation;
    });
    return row == result.checks.end() ? nullptr : &*row;
}

} // namespace

TEST_CASE("a clip of stated strength holds the pull of its support or does not", "[solver][checks][uplift]") {
    Piece piece = oak_top();
    third(piece).hold_down = true;
    third(piece).held_by.strength_N = 900;
    const Response little = pulled_with(240, Duration::short_term),
                   much = pulled_with(1200, Duration::short_term);
    const auto row = judge_uplift(input_of(piece, little));
    REQUIRE(row);
    CHECK(row->demand == 240);
    CHECK(row->capacity == 900);
    CHECK(row->at->x == 2);
    CHECK_THAT(in_own_units(row->basis), Contains("at pad 3; as stated for it"));
    CHECK(judge_uplift(input_of(piece, much))->demand > 900);
    CHECK_FALSE(judge_uplift(input_of(piece, pulled_with(0, Duration::short_term))));
    CHECK(told_of_uplift(piece, much).empty());
}

TEST_CASE("screws hold by the handbook, or by the code's withdrawal on a class", "[solver][checks][uplift]") {
    Piece piece = oak_top();
    third(piece).held_by = {.screws = 2, .diameter = 5, .length = 20};
    // white oak SG 0.68: a fifth of 108.25 G^2 D L (Wood Handbook eq. 8-10), x 1.25 for a short load
    CHECK_THAT(judge_uplift(input_of(piece, pulled_with(100, Duration::short_term)))->capacity,
               WithinRel(2 * 1.25 * 108.25 * 0.68 * 0.68 * 5 * 20 / 5, 1e-9));
    piece.allowables = {.basis = AllowablesBasis::strength_class, .strength_class = "D30"};
    piece.top.wood = "spruce_sitka";
    third(piece).held_by = {.screws = 3, .diameter = 6, .length = 30};
    piece.top.thickness = 80; // 12 d and more, as the code asks
    // EN 1995-1-1 eq. 8.38 to 8.40 with rho_k 530 of D30 (EN 338), k_mod short 0.9 / 1.3; its thread of 5 d
    // holds 5/6
    const double rho_k = 530;
    const double f_ax = 0.52 * std::pow(6, -0.5) * std::pow(30, -0.1) * std::pow(rho_k, 0.8),
                 k_d = std::min(6.0 / 8, 1.0);
    CHECK_THAT(judge_uplift(input_of(piece, pulled_with(100, Duration::short_term)))->capacity,
               WithinRel(5.0 / 6 * 3 * f_ax * 6 * 30 * k_d * 0.9 / 1.3, 1e-9));
}

TEST_CASE("a support that pulls and says nothing of what holds there is told as not judged",
          "[solver][checks][uplift]") {
    Piece piece = oak_top();
    third(piece).hold_down = true;
    piece.supports[2].name = "pad 3";
    const Response response = pulled_with(240, Duration::short_term);
    CHECK_FALSE(judge_uplift(input_of(piece, response)));
    const std::vector<Message> told = told_of_uplift(piece, response);
    REQUIRE(told.size() == 1);
    CHECK(in_own_units(told[0]) ==
          "Not judged: nothing says what holds the top down at \"pad 3\", which pulls with up to "
          "240 N under \"someone leans\"; give \"hold_down\" as a force or as screws.");
}

TEST_CASE("a bearer that holds an overhang down pulls as the lever says", "[solver][checks][uplift]") {
    Piece piece = overhanging(100, 100); // narrow, and evenly loaded: every stretch of the bearer pulls alike
    for (Support& support : piece.supports)
        std::get<Bearer>(support.kind).stiffness = 0.2; // soft: it does not clamp the top against turning
    std::get<Bearer>(piece.supports[0].kind).held_by.strength_N = 500;
    const Result result = checked(piece);
    const double weight = result.mass.top_kg * 9.80665;
    const CheckResult* row = find(result, "uplift at what is held down", "lean");
    REQUIRE(row);
    // about the right bearer, whose force lies at its outer half: an arm of 400 to 420 for the pull, of 460
    // to 440 for the load; the weight lies in the middle of the top, 0 to 20 from it
    CHECK(row->demand < 300 * 460.0 / 400);
    CHECK(row->demand > (300 * 440.0 - weight * 20) / 420);
    CHECK(result.passes == (result.governing_utilisation <= 1));
    // a hard one does, and then pulls more, at most what a beam built in there takes: 3/2 M/l
    for (Support& support : piece.supports) std::get<Bearer>(support.kind).stiffness = 1000;
    const Result hard = checked(piece);
    CHECK(find(hard, "uplift at what is held down", "lean")->demand > row->demand);
    CHECK(find(hard, "uplift at what is held down", "lean")->demand < 1.5 * 300 * 480 / 360);
}

TEST_CASE("a top that tips under one load is judged under all others, and fails", "[checks][tipping]") {
    Piece piece = overhanging();
    std::get<Bearer>(piece.supports[0].kind).hold_down = false;
    piece.loads.push_back(
        {.name = "vase",
         .duration = Duration::short_term,
         .kind = PatchLoad{.force = 50, .at = {300, 250}, .size_x = 60, .size_y = 60, .over = {}}});
    const Result result = checked(piece);
    CHECK_FALSE(result.passes);
    const double weight = result.mass.top_kg * 9.80665;
    const CheckResult* tips = find(result, "tipping", "lean");
    REQUIRE(tips);
    CHECK_THAT(tips->capacity,
               WithinRel(weight * 20 / (300 * 440), 1e-4)); // about the bearer's outer edge at 520
    CHECK(tips->demand == 1.5);
    CHECK_FALSE(find(result, "bending along the grain", "lean")); // it never presses with all of it
    CHECK_FALSE(find(result, "sag at once", "lean"));
    CHECK(find(result, "bending along the grain", "vase"));
    CHECK(find(result, "sag at once", "standing loads"));
    REQUIRE(result.situations.size() == 4);
    REQUIRE(result.situations[2].set_down);
    CHECK_THAT(*result.situations[2].tipping_factor, WithinRel(tips->capacity, 1e-9));
    CHECK(std::any_of(result.warnings.begin(), result.warnings.end(), [](const Message& w) {
        return in_own_units(w).find("Under \"lean\" the top tips at") == 0;
    }));
}

TEST_CASE("the force of a strength test on a loose top is judged at what tips it", "[checks][tipping]") {
    Piece piece = overhanging();
    std::get<Bearer>(piece.supports[0].kind).hold_down = false;
    piece.loads[0].judged_for = LoadFor::strength;
    piece.loads[0].duration = Duration::minutes;
    std::get<PatchLoad>(piece.loads[0].kind).force = 1000;
    piece.loads.push_back(
        {.name = "push",
         .duration = Duration::minutes,
         .kind = PatchLoad{.force = 40, .at = {540, 250}, .size_x = 60, .size_y = 60, .over = {}},
         .judged_for = LoadFor::stability});
    const Result result = checked(piece);
    CHECK_FALSE(find(result, "tipping", "lean")); // the piece has a load for that
    const CheckResult* stands = find(result, "tipping", "push");
    REQUIRE(stands);
    CHECK(stands->demand == 1);
    CHECK_FALSE(find(result, "bending along the grain", "push"));
    const CheckResult* bends = find(result, "bending along the grain", "lean");
    REQUIRE(bends);
    const double weight = result.mass.top_kg * 9.80665;
    REQUIRE(result.situations[2].set_down);
    // what tips it, about the middle of the bearer's outermost tiles, somewhere in its outer half
    CHECK(*result.situations[2].set_down <= weight * 20 / (1000 * 440.0));
    CHECK(*result.situations[2].set_down > 0);
    // over the bearer: the part of the top past it and what little of the load stands, both on levers to its
    // outer half
    const double share = *result.situations[2].set_down * 1000, past = weight * 0.48 * 240;
    CHECK(bends->demand < (share * 460 + past + weight * 20) / (500 * 25 * 25 / 6.0));
    CHECK_FALSE(find(result, "sag at once", "lean")); // told, not limited
    CHECK(result.situations[2].sag_limit_mm == 0);
    CHECK(result.passes);
}
