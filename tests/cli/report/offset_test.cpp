// SPDX-License-Identifier: MIT
#include "cli/report/workshop/offset.hpp"

#include <catch2/catch.hpp>

#include <numbers>

using namespace hollowtop;
using namespace hollowtop::cli;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double pi = std::numbers::pi;
const RectangleShape rounded{.box = {0, 100, 0, 60}, .corner_radius = 10};
const RectangleShape sharp{.box = {0, 100, 0, 60}};
/// An L, its one hollow corner at (40, 20).
const PolygonShape l_shape{.points = {{0, 0}, {100, 0}, {100, 20}, {40, 20}, {40, 60}, {0, 60}},
                           .corner_radius = 0};

} // namespace

TEST_CASE("a rounded rectangle moved outwards grows with its corners", "[report]") {
    // Steiner: A + P d + pi d^2, of the loop with its rounded corners
    const double area = 6000 - (4 - pi) * 100, around = 2 * (80 + 40) + 2 * pi * 10;
    for (const double by : {6.0, 0.5, -4.0}) {
        const auto moved = moved_outwards(loop_of(rounded), by);
        REQUIRE(moved);
        CHECK_THAT(area_of(*moved), WithinRel(area + around * by + pi * by * by, 1e-9));
        const Rectangle box = bounds_of(*moved);
        CHECK_THAT(box.x0, WithinAbs(-by, 1e-9));
        CHECK_THAT(box.y1, WithinAbs(60 + by, 1e-9));
    }
}

TEST_CASE("arcs that are used up leave corners, and what is narrower than the move closes", "[report]") {
    const auto corner = moved_outwards(loop_of(rounded), -12);
    REQUIRE(corner);
    CHECK_THAT(area_of(*corner), WithinRel(76.0 * 36, 1e-9));
    CHECK(moved_outwards(loop_of(rounded), -29));
    CHECK_FALSE(moved_outwards(loop_of(rounded), -31)); // 60 wide
    CHECK_FALSE(moved_outwards(loop_of(sharp), -30.001));
    CHECK_FALSE(moved_outwards(loop_of(l_shape), -11)); // the leg is 20 wide
    CHECK(moved_outwards(loop_of(l_shape), -9));
}

TEST_CASE("corners are kept sharp either way", "[report]") {
    const auto moved = moved_outwards(loop_of(l_shape), 5);
    REQUIRE(moved);
    // by hand: a 110 x 30 foot and a 50 x 40 upright
    CHECK_THAT(area_of(*moved), WithinRel(110.0 * 30 + 50 * 40, 1e-12));
}

TEST_CASE("the tightest corner is found, hollow or jutting", "[report]") {
    CHECK(tightest_corner(loop_of(rounded), true)->radius == Approx(10));
    CHECK_FALSE(tightest_corner(loop_of(rounded), false));
    CHECK(tightest_corner(loop_of(sharp), true)->radius == 0);
    const auto jutting = tightest_corner(loop_of(l_shape), false);
    REQUIRE(jutting);
    CHECK(jutting->at == Point{40, 20});
    const Loop oval = inset(EllipseShape{{0, 2000, 0, 1000}}, 100, 0);
    CHECK_FALSE(tightest_corner(oval, true)); // chords of a curve are no corners
}
