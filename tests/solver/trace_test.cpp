// SPDX-License-Identifier: MIT
#include "solver/piece/trace.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Trace box(double x0, double x1, double y0, double y1) {
    return trace_of(RectangleShape{{x0, x1, y0, y1}, 0});
}

/// An L, 300 x 300 with arms 100 wide.
const PolygonShape ell{{{0, 0}, {300, 0}, {300, 100}, {100, 100}, {100, 300}, {0, 300}}, 0};

} // namespace

TEST_CASE("a rounded rectangle encloses its area less the corners", "[solver][piece]") {
    const Trace trace = trace_of(RectangleShape{{0, 400, 0, 300}, 100});
    // four corners of radius r lose (4 - pi) r^2; chords within 0.001 mm of arcs lose at most 0.001 mm of
    // their length
    CHECK_THAT(signed_area(trace.points),
               WithinAbs(400 * 300 - (4 - std::numbers::pi) * 100 * 100, 0.001 * 2 * std::numbers::pi * 100));
}

TEST_CASE("a rounded reflex corner gains what a convex one loses", "[solver][piece]") {
    // an L has five convex corners and one reflex: four of the losses remain
    const Trace trace = trace_of(PolygonShape{ell.points, 40});
    const double lost = (1 - std::numbers::pi / 4) * 40 * 40;
    CHECK_THAT(signed_area(trace.points), WithinAbs(5e4 - 4 * lost, 0.001 * 3 * std::numbers::pi * 40));
}

TEST_CASE("an ellipse encloses pi a b", "[solver][piece]") {
    const Trace trace = trace_of(EllipseShape{{0, 1900, 0, 850}});
    // chords stray less than 0.001 mm inwards along a rim of some 4.5 m
    CHECK_THAT(signed_area(trace.points), WithinAbs(std::numbers::pi * 950 * 425, 0.001 * 4500));
}

TEST_CASE("the rim of a circle leaves a circle", "[solver][piece]") {
    const auto trace = traced_inset(EllipseShape{{0, 1000, 0, 1000}}, {.rim = 100, .corner_radius = 0});
    REQUIRE(trace);
    for (const Point& p : trace->points) {
        // exact but for rounding of numbers of 500
        CHECK_THAT(std::hypot(p.x - 500, p.y - 500), WithinAbs(400, 1e-9));
    }
}

TEST_CASE("a rim keeps its width along every side of a polygon", "[solver][piece]") {
    const auto trace = traced_inset(ell, {.rim = 20, .corner_radius = 0});
    REQUIRE(trace);
    const std::vector<Point> expected{{20, 20}, {280, 20}, {280, 80}, {80, 80}, {80, 280}, {20, 280}};
    REQUIRE(trace->points.size() == expected.size());
    for (std::size_t i = 0; i < expected.size(); ++i) {
        CHECK_THAT(trace->points[i].x, WithinAbs(expected[i].x, 1e-9));
        CHECK_THAT(trace->points[i].y, WithinAbs(expected[i].y, 1e-9));
    }
    CHECK_FALSE(traced_inset(ell, {.rim = 50, .corner_radius = 0}));
}

TEST_CASE("either way round, a polygon is traced counter-clockwise", "[solver][piece]") {
    PolygonShape clockwise = ell;
    std::reverse(clockwise.points.begin(), clockwise.points.end());
    CHECK_THAT(signed_area(clockwise.points), WithinRel(-5e4, 1e-12));
    CHECK_THAT(signed_area(trace_of(clockwise).points), WithinRel(5e4, 1e-12));
}

TEST_CASE("depth inside is the distance to the nearest edge, negative outside", "[solver][piece]") {
    const Trace trace = trace_of(ell);
    CHECK_THAT(depth_inside(trace, {50, 200}), WithinAbs(50, 1e-12));
    CHECK_THAT(depth_inside(trace, {200, 130}), WithinAbs(-30, 1e-12));
    CHECK_THAT(depth_inside(trace, {-3, -4}), WithinAbs(-5, 1e-12));
    CHECK_THAT(depth_inside(trace, {300, 50}), WithinAbs(0, 1e-12));
}

TEST_CASE("one shape reaches out of another by what the eye would measure", "[solver][piece]") {
    const Trace outer = trace_of(ell);
    CHECK_FALSE(reaches_out(box(0, 100, 0, 300), outer));
    CHECK_FALSE(reaches_out(outer, outer));
    const auto outside = reaches_out(box(50, 160, 50, 130), outer);
    REQUIRE(outside);
    CHECK(outside->at == Point{160, 130});
    CHECK_THAT(outside->by, WithinAbs(30, 1e-12));
}

TEST_CASE("a chord across the hollow of an L reaches out though both its ends are in", "[solver][piece]") {
    CHECK(reaches_out({50, 250}, {250, 50}, trace_of(ell)));
    CHECK_FALSE(reaches_out({0, 300}, {0, 0}, trace_of(ell)));
}

TEST_CASE("shapes that touch along an edge or at a corner have no place in common", "[solver][piece]") {
    CHECK_FALSE(common_place(box(0, 100, 0, 100), box(100, 200, 0, 100)));
    CHECK_FALSE(common_place(box(0, 100, 0, 100), box(100, 200, 100, 200)));
    CHECK_FALSE(common_place(trace_of(ell), box(100, 300, 100, 300)));
}

TEST_CASE("crossing, nested and equal shapes have a place in common", "[solver][piece]") {
    const Trace square = box(0, 100, 0, 100);
    CHECK(common_place(box(-50, 150, 40, 60), square));
    CHECK(common_place(box(40, 60, 40, 60), square));
    CHECK(common_place(square, box(40, 60, 40, 60)));
    CHECK(common_place(square, square));
    CHECK(common_place(trace_of(ell), box(0, 300, 0, 300)));
}

TEST_CASE("a polygon that crosses, touches or folds back on itself is seen", "[solver][piece]") {
    CHECK_FALSE(crossing_of_itself(ell.points));
    CHECK(crossing_of_itself(std::vector<Point>{{0, 0}, {100, 100}, {100, 0}, {0, 100}}) == Point{50, 50});
    CHECK(crossing_of_itself(std::vector<Point>{{0, 0}, {100, 0}, {100, 100}, {50, 0}, {0, 100}}) ==
          Point{50, 0});
    CHECK(crossing_of_itself(std::vector<Point>{{0, 0}, {100, 0}, {100, 100}, {100, 50}}) == Point{100, 100});
}

TEST_CASE("a corner may be rounded until half of its shorter side is used up", "[solver][piece]") {
    CHECK_THAT(largest_corner_radius(ell.points), WithinRel(50, 1e-12));
    // a triangle of equal sides s: the cut is radius x tan(60 deg)
    const double s = 200;
    CHECK_THAT(largest_corner_radius(std::vector<Point>{{0, 0}, {s, 0}, {s / 2, s * std::sqrt(3) / 2}}),
               WithinRel(s / 2 / std::sqrt(3), 1e-12));
}
