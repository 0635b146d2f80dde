// SPDX-License-Identifier: MIT
// Strips worked by hand: every expected number is a closed form of the textbooks, written out here.
#include "solver/hand/stepped_beam.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double exact =
    1e-6; // relative: Simpson's rule is exact; ends are read a billionth of a piece inside

/// 1000 long, E I 1e9, stiff in shear unless said, on its ends.
SteppedBeam plain_beam(double GA = 1e18) {
    return {.steps = {{0, 1000, 1e9, GA}}, .loads = {}, .left = {.at = 0}, .right = {.at = 1000}};
}

double sag(const SteppedBeam& strip, double x) { return beam_movement(strip, solve_stepped_beam(strip), x); }

} // namespace

TEST_CASE("an even load on a plain strip sags by 5/384", "[solver][study]") {
    SteppedBeam strip = plain_beam();
    strip.loads = {{0, 1000, 200}};
    CHECK_THAT(sag(strip, 500), WithinRel(5 * 200 * 1e9 / (384 * 1e9), exact));
    CHECK_THAT(sag(strip, 0), WithinAbs(0, 1e-9));
}

TEST_CASE("a point load off the middle sags by the textbook's formula where it stands", "[solver][study]") {
    SteppedBeam strip = plain_beam();
    strip.loads = {{300, 300, 100}};
    CHECK_THAT(sag(strip, 300),
               WithinRel(100.0 * 300 * 300 * 700 * 700 / (3 * 1e9 * 1000), exact)); // P a^2 b^2 / (3 E I L)
}

TEST_CASE("shear adds P L / (4 G A) under a load in the middle", "[solver][study]") {
    SteppedBeam strip = plain_beam(1e6);
    strip.loads = {{500, 500, 100}};
    CHECK_THAT(sag(strip, 500), WithinRel(100 * 1e9 / (48 * 1e9) + 100 * 1000 / (4 * 1e6), exact));
}

TEST_CASE("a strip weakened in its middle half sags by the sum of its parts", "[solver][study]") {
    // P in the middle, half the stiffness between the quarters: 2/EI [int_0^250 (Px/2)(x/2) dx + 2
    // int_250^500 ...]
    SteppedBeam strip = plain_beam();
    strip.steps = {{0, 250, 1e9, 1e18}, {250, 750, 0.5e9, 1e18}, {750, 1000, 1e9, 1e18}};
    strip.loads = {{500, 500, 100}};
    const double outer = 250.0 * 250 * 250 / 3, whole = 500.0 * 500 * 500 / 3;
    CHECK_THAT(sag(strip, 500), WithinRel(2 * 100 / 4.0 / 1e9 * (outer + 2 * (whole - outer)), exact));
}

TEST_CASE("the end of an overhang sinks as a cantilever and by the turn at its support", "[solver][study]") {
    SteppedBeam strip = plain_beam();
    strip.right.at = 700;
    strip.loads = {{1000, 1000, 50}};
    CHECK_THAT(sag(strip, 1000),
               WithinRel(50.0 * 300 * 300 * (700 + 300) / (3 * 1e9), exact)); // P a^2 (L + a) / (3 E I)
    const SteppedBeamAnswer answer = solve_stepped_beam(strip);
    CHECK_THAT(answer.force[0], WithinRel(-50 * 300.0 / 700, exact)); // it pulls
    CHECK_THAT(answer.force[1], WithinRel(50 * 1000.0 / 700, exact));
}

TEST_CASE("ends held fast let an even load sag by 1/384, and take w L / 12", "[solver][study]") {
    SteppedBeam strip = plain_beam();
    strip.loads = {{0, 1000, 200}};
    strip.left.turning = strip.right.turning = 1e30;
    const SteppedBeamAnswer answer = solve_stepped_beam(strip);
    CHECK_THAT(answer.moment[0], WithinRel(200 * 1000 / 12.0, exact));
    CHECK_THAT(beam_movement(strip, answer, 500), WithinRel(200 * 1e9 / (384 * 1e9), exact));
}

TEST_CASE("springs of 2 E I / L hold half of what fast ends hold", "[solver][study]") {
    SteppedBeam strip = plain_beam();
    strip.loads = {{0, 1000, 200}};
    strip.left.turning = strip.right.turning = 2 * 1e9 / 1000;
    CHECK_THAT(solve_stepped_beam(strip).moment[1], WithinRel(200 * 1000 / 24.0, exact));
}

TEST_CASE("one end held fast and the other free takes w L / 8", "[solver][study]") {
    SteppedBeam strip = plain_beam();
    strip.loads = {{0, 1000, 200}};
    strip.left.turning = 1e30;
    CHECK_THAT(solve_stepped_beam(strip).moment[0], WithinRel(200 * 1000 / 8.0, exact));
    CHECK_THAT(solve_stepped_beam(strip).force[0], WithinRel(200 * 5 / 8.0, exact));
}

TEST_CASE("a support that only presses holds at most its force times half its width", "[solver][study]") {
    SteppedBeam strip = plain_beam();
    strip.loads = {{0, 1000, 200}};
    strip.left = strip.right = {.at = 0, .turning = 1e15, .width = 30, .lets_go = true};
    strip.right.at = 1000;
    const SteppedBeamAnswer answer = solve_stepped_beam(strip);
    CHECK(answer.moment[0] > 100 * 30 / 6.0); // past the kern: it has let go on one side
    CHECK(answer.moment[0] < 100 * 30 / 2.0);
    // pressed over c from the inner edge: m = R (b/2 - c/3), R = k turn c^2 / 2 with k = 12 turning / b^3
    const double c = 3 * (15 - answer.moment[0] / 100),
                 turn = (200 * 1e6 / 24 - answer.moment[0] * 1000 / 2) / 1e9;
    CHECK_THAT(12e15 / (30.0 * 30 * 30) * turn * c * c / 2,
               WithinRel(100.0, 1e-4)); // a bisection's digits, magnified
}
