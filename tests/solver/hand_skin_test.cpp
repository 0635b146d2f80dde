// SPDX-License-Identifier: MIT
// Plates of the textbook (Timoshenko and Woinowsky-Krieger 1959).
#include "solver/hand/hand_skin.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

namespace {

HandSkin plate(double a, double b) {
    return {.box = {0, a, 0, b}, .D = {1e6, 1e6}, .twist = 2e6, .share_across = 0};
}

double middle(const HandSkin& skin, const LoadBox& load) {
    return dish_by_hand(skin, {load}, {(skin.box.x0 + skin.box.x1) / 2}, {(skin.box.y0 + skin.box.y1) / 2})
        .front();
}

} // namespace

TEST_CASE("a simply supported square plate sinks by 0.00406 q a^4 / D", "[solver][study]") {
    CHECK_THAT(middle(plate(500, 500), {{0, 0}, {500, 500}, 0.002 * 250000, false}),
               WithinRel(0.00406 * 0.002 * 6.25e10 / 1e6, 2e-3)); // table 8
}

TEST_CASE("a plate twice as long as wide sinks by 0.01013 q b^4 / D", "[solver][study]") {
    CHECK_THAT(middle(plate(1000, 500), {{0, 0}, {1000, 500}, 0.002 * 500000, false}),
               WithinRel(0.01013 * 0.002 * 6.25e10 / 1e6, 2e-3)); // table 8
}

TEST_CASE("a point load in the middle of a square plate sinks it by 0.0116 P a^2 / D", "[solver][study]") {
    const HandSkin skin = plate(500, 500); // table 23; seven terms leave 2 % out
    CHECK_THAT(middle(skin, {{250, 250}, {250, 250}, 100, false}),
               WithinRel(0.0116 * 100 * 250000 / 1e6, 0.025));
}

TEST_CASE("a skin between walls that cannot turn sinks as a clamped strip, five times less",
          "[solver][study]") {
    HandSkin skin = plate(5000, 400);
    skin.D = {1, 5 * 1e6}; // raised by 5 / (5 - 4)
    skin.twist = 0;
    CHECK_THAT(middle(skin, {{0, 0}, {5000, 400}, 0.001 * 2e6, false}),
               WithinRel(0.001 * 2.56e10 / (384 * 1e6),
                         0.1)); // seven waves along a long skin ripple by some per cent
}

TEST_CASE("what lies off the skin does not dish it", "[solver][study]") {
    CHECK(middle(plate(500, 500), {{-200, 0}, {-10, 500}, 100, false}) == 0);
}
