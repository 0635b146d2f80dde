// SPDX-License-Identifier: MIT
#include "solver/situations/tipping.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

namespace {

/// Hand arithmetic of a few products.
constexpr double rounding = 1e-12;

Resultant load(double force, double x, double y) {
    return {.force = force, .x_moment = force * x, .y_moment = force * y};
}

const std::vector<Point> legs{{100, 100}, {900, 100}, {900, 500}, {100, 500}};

} // namespace

TEST_CASE("the hull keeps the outermost feet and runs counter-clockwise", "[solver][tipping]") {
    const std::vector<Point> hull =
        convex_hull({{0, 0}, {10, 0}, {5, 0}, {10, 8}, {0, 8}, {4, 3}, {0, 8}, {0, 4}});
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
        for (const Point& p : cloud)
            CHECK((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) >= -1e-6); // mm2
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

TEST_CASE("each load helps or harms about each edge by itself", "[solver][tipping]") {
    // about the right edge: 200 N of weight hold on an arm of 400 and a vase of 30 N that stays on one of 20;
    // a stone of 50 N past it harms on an arm of 60, and so does a lean of 100 N on one of 80
    const std::vector<TippingLoad> loads{{.of = load(200, 500, 300), .is_permanent = true},
                                         {.of = load(30, 880, 300)},
                                         {.of = load(50, 960, 300), .is_permanent = true},
                                         {.of = load(100, 980, 300), .leads = true}};
    const auto plain = tipping_of(legs, loads, as_it_is);
    REQUIRE(plain);
    CHECK_THAT(plain->factor, WithinRel((200 * 400 - 50 * 60) / (100 * 80.0),
                                        rounding)); // without the vase, which may be away
    const TippingFormat code = tipping_format(AllowablesBasis::strength_class, LoadFor::everyday);
    CHECK_THAT(
        tipping_of(legs, loads, code)->factor,
        WithinRel((0.9 * 200 * 400 - 1.1 * 50 * 60) / (100 * 80.0), rounding)); // EN 1990 table A1.2(A)
    CHECK(code.needed == 1.5);
    CHECK(tipping_format(AllowablesBasis::strength_class, LoadFor::stability).needed == 1);
    CHECK(tipping_format(AllowablesBasis::handbook, LoadFor::everyday).needed == 1.5);
    CHECK(tipping_format(AllowablesBasis::handbook, LoadFor::stability).needed == 1);
    CHECK(tipping_format(AllowablesBasis::handbook, LoadFor::strength).needed == 1);
}

TEST_CASE("what changes and harms counts with its combination factor on a strength class",
          "[solver][tipping]") {
    const std::vector<TippingLoad> loads{{.of = load(200, 500, 300), .is_permanent = true},
                                         {.of = load(40, 960, 300), .psi_0 = 0.7},
                                         {.of = load(100, 980, 300), .leads = true}};
    CHECK_THAT(
        tipping_of(legs, loads, tipping_format(AllowablesBasis::strength_class, LoadFor::everyday))->factor,
        WithinRel((0.9 * 200 * 400 - 1.5 * 0.7 * 40 * 60) / (100 * 80), rounding));
    CHECK_THAT(tipping_of(legs, loads, as_it_is)->factor,
               WithinRel((200 * 400 - 40 * 60) / (100 * 80.0), rounding));
}

TEST_CASE("a stone that stays past the legs is held against the weight alone", "[solver][tipping]") {
    const std::vector<TippingLoad> loads{{.of = load(200, 500, 300), .is_permanent = true},
                                         {.of = load(300, 980, 300), .leads = true}};
    const auto handbook =
        standing_tipping_of(legs, loads, tipping_format(AllowablesBasis::handbook, LoadFor::everyday));
    REQUIRE(handbook);
    CHECK_THAT(handbook->factor, WithinRel(200 * 400 / (300 * 80.0), rounding));
    const auto code =
        standing_tipping_of(legs, loads, tipping_format(AllowablesBasis::strength_class, LoadFor::everyday));
    CHECK_THAT(code->factor, WithinRel(0.9 * 200 * 400 / (1.5 * 300 * 80), rounding));
    CHECK_FALSE(
        standing_tipping_of(legs, std::vector<TippingLoad>{{.of = load(200, 500, 300), .is_permanent = true}},
                            as_it_is)); // nothing harms
}

TEST_CASE("of a foot that sticks out only what is under the top is cut", "[solver][tipping]") {
    const std::vector<Point> top{{0, 0}, {100, 0}, {100, 50}, {0, 50}};
    const std::vector<Point> under = convex_hull(clipped(top, {{80, 40}, {120, 40}, {120, 70}, {80, 70}}));
    CHECK(under == std::vector<Point>{{80, 40}, {100, 40}, {100, 50}, {80, 50}});
    CHECK(clipped(top, {{180, 40}, {220, 40}, {220, 70}, {180, 70}}).empty());
}
