// SPDX-License-Identifier: MIT
#include "solver/analysis/tipping.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

namespace {

/// Hand arithmetic of a few products.
constexpr double rounding = 1e-12;

Resultant load(double force, double x, double y) { return {.force = force, .x_moment = force * x, .y_moment = force * y}; }

const std::vector<Point> legs{{100, 100}, {900, 100}, {900, 500}, {100, 500}};

} // namespace

TEST_CASE("the hull keeps the outermost feet and runs counter-clockwise", "[solver][tipping]") {
    const std::vector<Point> hull = convex_hull({{0, 0}, {10, 0}, {5, 0}, {10, 8}, {0, 8}, {4, 3}, {0, 8}, {0, 4}});
    CHECK(hull == std::vector<Point>{{0, 0}, {10, 0}, {10, 8}, {0, 8}});
}

TEST_CASE("feet on one line have a line for a hull, one foot a point", "[solver][tipping]") {
    CHECK(convex_hull({{0, 0}, {5, 5}, {2, 2}}).size() == 2);
    CHECK(convex_hull({{3, 4}, {3, 4}}).size() == 1);
    CHECK(convex_hull({}).empty());
}

TEST_CASE("no point lies outside the hull of a cloud", "[solver][tipping]") {
    std::mt19937 random(3);
    std::uniform_real_distribution<double> place(0, 1000);
    std::vector<Point> cloud;
    for (int k = 0; k < 200; ++k) cloud.push_back({place(random), place(random)});
    const std::vector<Point> hull = convex_hull(cloud);
    for (std::size_t k = 0; k < hull.size(); ++k) {
        const Point a = hull[k], b = hull[(k + 1) % hull.size()];
        for (const Point& p : cloud) CHECK((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) >= -1e-6); // mm2
    }
}

TEST_CASE("the factor is the ratio of the moments about the nearest edge", "[solver][tipping]") {
    // 200 N in the middle hold down on an arm of 400; 100 N lean 80 mm outside: 200 x 400 / (100 x 80)
    const auto tipping = tipping_of(legs, load(200, 500, 300), load(100, 980, 300));
    REQUIRE(tipping);
    CHECK_THAT(tipping->factor, WithinRel(10, rounding));
    CHECK(tipping->from == Point{900, 100});
    CHECK(tipping->to == Point{900, 500});
}

TEST_CASE("over a corner the edge that gives way first counts", "[solver][tipping]") {
    // right edge: 200 x 400 / (100 x 60); front edge: 200 x 200 / (100 x 80)
    const auto tipping = tipping_of(legs, load(200, 500, 300), load(100, 960, 20));
    REQUIRE(tipping);
    CHECK_THAT(tipping->factor, WithinRel(5, rounding));
    CHECK(tipping->from.y == 100);
    CHECK(tipping->to.y == 100);
}

TEST_CASE("a load between the legs never tips the top", "[solver][tipping]") {
    CHECK_FALSE(tipping_of(legs, load(200, 500, 300), load(1e6, 899, 101)));
    CHECK_FALSE(tipping_of(legs, load(200, 500, 300), load(1e6, 900, 300))); // right above the edge
}

TEST_CASE("without weight any load outside the legs tips the top", "[solver][tipping]") {
    const auto tipping = tipping_of(legs, {}, load(1, 950, 300));
    REQUIRE(tipping);
    CHECK(tipping->factor == 0);
}

TEST_CASE("a top whose own loads lie outside the legs tips by itself", "[solver][tipping]") {
    const auto tipping = tipping_of(legs, load(200, 950, 300), load(10, 500, 300));
    REQUIRE(tipping);
    CHECK(tipping->factor == 0);
}

TEST_CASE("on a single line of feet the top tips to either side", "[solver][tipping]") {
    const std::vector<Point> line = convex_hull({{100, 300}, {900, 300}});
    for (const double y : {290.0, 310.0}) {
        const auto tipping = tipping_of(line, load(200, 500, 300), load(10, 500, y));
        REQUIRE(tipping);
        CHECK(tipping->factor == 0);
    }
}

TEST_CASE("a load that lifts on one side tips about the other", "[solver][tipping]") {
    // 50 N upward at the left edge of the top: about the right legs 200 x 400 / (50 x 850)
    const auto tipping = tipping_of(legs, load(200, 500, 300), load(-50, 50, 300));
    REQUIRE(tipping);
    CHECK_THAT(tipping->factor, WithinRel(200.0 * 400 / (50 * 850), rounding));
    CHECK(tipping->from.x == 900);
}
