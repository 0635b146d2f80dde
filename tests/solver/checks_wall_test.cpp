// SPDX-License-Identifier: MIT
#include "solver/readout/walls.hpp"
#include "solver/shell/shell.hpp"
#include "tests/solver/checks_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

namespace {

/// A skin of 12 mm in a top of 30 mm; the wall's normal lies across the grain.
Response at_a_wall(double moment, double pull = 0) {
    SituationResponse one = situation("someone", Stage::passing, Duration::short_term);
    WallSample wall;
    wall.at = {500, 100};
    wall.across = {0, -1};
    wall.skin = 12;
    wall.thick = 30;
    wall.pull = pull;
    wall.moment = moment;
    one.walls = {wall};
    return response_of(std::move(one));
}

} // namespace

TEST_CASE("tension at the root of a wall is the solved section's mean against what 81 cm3 bear",
          "[solver][checks][wall]") {
    const Piece piece = oak_top();
    const Response response = at_a_wall(-60);
    const auto row = judge_wall_stress(input_of(piece, response));
    REQUIRE(row);
    const WallFaces faces = wall_faces(plane_of(piece), response.situations[0].walls[0], 0);
    CHECK_THAT(row->demand,
               WithinRel(faces.bottom[1], 1e-12)); // tension at the root: the moment is less than 0
    CHECK(row->demand > 0.9 * 6 * 60 / (12.0 * 12.0));
    CHECK_THAT(row->capacity,
               WithinRel(allowables_of(piece, Duration::short_term)->tension_across.value, 1e-12));
    CHECK(row->at->y == 100);
    // on a strength class too: 0.6 x 0.9/1.3 x (10000/81)^0.2
    Piece graded = piece;
    graded.allowables.basis = AllowablesBasis::strength_class;
    graded.allowables.strength_class = "D30";
    CHECK_THAT(judge_wall_stress(input_of(graded, response))->capacity,
               WithinRel(0.6 * 0.9 / 1.3 * std::pow(10000.0 / 81, 0.2), 1e-12));
}

TEST_CASE("tension over walls is summed up along them", "[solver][checks][wall]") {
    const Piece piece = oak_top();
    Response response = at_a_wall(260);
    WallSample& wall = response.situations[0].walls[0];
    wall.length = 200;
    const WallFaces faces = wall_faces(plane_of(piece), wall, 0);
    const double t = faces.top[1], q = -faces.bottom[1];
    REQUIRE(t > 0);
    REQUIRE(q > 0);
    const auto row = judge_wall_stress(input_of(piece, response));
    REQUIRE(row);
    // 200 x 12 mm of wall, 12 mm thick: h t^6 / (6 (t + q)), on 81 cm3
    const double by_hand = std::pow(200.0 * 12 * 12 * std::pow(t, 6) / (6 * (t + q)) / 81000, 0.2);
    const double pressed = q / allowables_of(piece, Duration::short_term)->compression_across.value;
    REQUIRE(by_hand / row->capacity > pressed); // else the root's compression would govern
    CHECK_THAT(row->demand, WithinRel(by_hand, 1e-9));
    CHECK_THAT(row->capacity,
               WithinRel(allowables_of(piece, Duration::short_term)->tension_across.value, 1e-12));
    CHECK(row->at->y == 100);
    response.situations[0].walls.push_back(wall); // twice the wall
    CHECK_THAT(judge_wall_stress(input_of(piece, response))->demand,
               WithinRel(by_hand * std::pow(2, 0.2), 1e-9));
}

TEST_CASE("the gain of a larger corner radius is said where there is one", "[solver][checks][wall]") {
    const Piece piece = oak_top();
    const Response sagging = at_a_wall(-60, 5); // tension at the root
    const auto row = judge_wall_stress(input_of(piece, sagging));
    REQUIRE(row);
    CHECK(in_own_units(row->remedy).find("; a cutter with a corner radius of ") != std::string::npos);
    CHECK(in_own_units(row->remedy).find(" mm instead of 0 mm lowers it by at most ") !=
          std::string::npos); // what the wall then draws is not in it
    Response wide = sagging;
    wide.situations[0].walls[0].root_radius = 12; // no cutter in the list is larger and fits
    CHECK(in_own_units(judge_wall_stress(input_of(piece, wide))->remedy).find("corner radius") ==
          std::string::npos);
}

TEST_CASE("splitting passes for a small moment and fails for ten times the limit's",
          "[solver][checks][wall]") {
    const Piece piece = oak_top();
    const auto small = judge_splitting(input_of(piece, at_a_wall(-20)));
    REQUIRE(small);
    CHECK(small->demand < 1);
    const auto at_limit = judge_splitting(input_of(piece, at_a_wall(-400)));
    REQUIRE(at_limit);
    const auto greater = judge_splitting(input_of(piece, at_a_wall(-4000)));
    CHECK_THAT(greater->demand, WithinRel(10 * at_limit->demand, 1e-9)); // it goes with the load
    CHECK(greater->demand > 1);
    const auto hogging = judge_splitting(input_of(piece, at_a_wall(400)));
    CHECK(hogging->demand == 0);
    CHECK(in_own_units(hogging->basis).find("closes every root") != std::string::npos);
}

TEST_CASE("without a recess there is no wall to check", "[solver][checks][wall]") {
    const Piece piece = oak_top();
    const Response response = response_of(situation("someone", Stage::passing, Duration::short_term));
    CHECK_FALSE(judge_wall_stress(input_of(piece, response)));
    CHECK_FALSE(judge_splitting(input_of(piece, response)));
}

TEST_CASE("buckling is told below three times the load and fails below two, on a class below one on the weak "
          "modulus",
          "[solver][checks][buckling]") {
    Piece piece = oak_top();
    SituationResponse one = situation("someone", Stage::passing, Duration::short_term);
    one.buckling_factor = 3.5;
    CHECK_FALSE(judge_skin_buckling(input_of(piece, response_of(one))));
    one.buckling_factor = 2;
    CHECK(judge_skin_buckling(input_of(piece, response_of(one)))->demand == 1); // twice the load, no more
    one.buckling_factor = 1.6;
    CHECK(judge_skin_buckling(input_of(piece, response_of(one)))->demand == 1.25);
    // C24: E_0,05 is 7400 of 11000 (EN 338)
    piece.allowables = {.basis = AllowablesBasis::strength_class, .strength_class = "C24"};
    const auto row = judge_skin_buckling(input_of(piece, response_of(one)));
    CHECK_THAT(row->demand, WithinRel(11000 / (1.6 * 7400), 1e-12));
    one.buckling_factor = 1.4;
    CHECK(judge_skin_buckling(input_of(piece, response_of(one)))->demand > 1);
}
