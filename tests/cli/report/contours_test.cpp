// SPDX-License-Identifier: MIT
#include "cli/report/drawing/contours.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <functional>
#include <limits>
#include <numbers>

using namespace hollowtop;
using namespace hollowtop::cli;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

ValueGrid sampled(int n, double size, const std::function<double(double, double)>& f) {
    ValueGrid grid;
    for (int i = 0; i <= n; ++i) grid.x.push_back(size * i / n), grid.y.push_back(size * i / n);
    for (const double y : grid.y)
        for (const double x : grid.x) grid.value.push_back(f(x, y));
    return grid;
}

/// Signed: the region on the left of each loop counts +, holes -.
double area_of(const std::vector<ContourLoop>& loops) {
    double area = 0;
    for (const ContourLoop& loop : loops)
        for (std::size_t k = 0; k < loop.points.size(); ++k) {
            const Point a = loop.points[k], b = loop.points[(k + 1) % loop.points.size()];
            area += (a.x * b.y - b.x * a.y) / 2;
        }
    return area;
}

} // namespace

TEST_CASE("the region above a level of a plane is cut off by a straight line", "[report]") {
    const ValueGrid grid = sampled(10, 100, [](double x, double) { return x; });
    const auto loops = region_at_or_above(grid, 37);
    REQUIRE(loops.size() == 1);
    CHECK_THAT(area_of(loops), WithinRel(63.0 * 100, 1e-12)); // linear interpolation is exact on a plane
    for (const Point& p : loops.front().points) CHECK(p.x >= 37 - 1e-9);
}

TEST_CASE("a dome's region closes on the circle, a basin's has a hole", "[report]") {
    const auto distance = [](double x, double y) { return std::hypot(x - 50, y - 50); };
    const double disc = std::numbers::pi * 30 * 30;
    const auto dome =
        region_at_or_above(sampled(100, 100, [&](double x, double y) { return -distance(x, y); }), -30);
    REQUIRE(dome.size() == 1);
    CHECK_THAT(area_of(dome), WithinRel(disc, 2e-3)); // chords of 1 mm on a circle of 30
    for (const char edge : dome.front().on_edge) CHECK(edge == 0);
    const auto basin = region_at_or_above(sampled(100, 100, distance), 30);
    CHECK(basin.size() == 2);
    CHECK_THAT(area_of(basin), WithinRel(100 * 100 - disc, 2e-3));
}

TEST_CASE("regions above and below a level fill the grid, whatever the values", "[report]") {
    unsigned seed = 7;
    const auto any = [&](double, double) {
        return static_cast<double>((seed = seed * 1664525U + 1013904223U) >> 8U) / (1 << 24);
    };
    const ValueGrid grid = sampled(12, 60, any);
    ValueGrid turned = grid;
    for (double& v : turned.value) v = -v;
    for (const double level : {0.2, 0.5, 0.8}) {
        const double above = area_of(region_at_or_above(grid, level)),
                     below = area_of(region_at_or_above(turned, -level));
        CHECK_THAT(above + below, WithinRel(60.0 * 60, 1e-9));
    }
}

TEST_CASE("a jump between two lines at one place is a straight wall", "[report]") {
    ValueGrid grid;
    grid.x = {0, 10, 10, 20};
    grid.y = {0, 5, 10};
    for (int j = 0; j < 3; ++j) grid.value.insert(grid.value.end(), {1, 1, 3, 3});
    const auto loops = region_at_or_above(grid, 2);
    REQUIRE(loops.size() == 1);
    CHECK_THAT(area_of(loops), WithinAbs(100, 1e-12));
}

TEST_CASE("points become a grid, and places without a value take their neighbours'", "[report]") {
    const double none = std::numeric_limits<double>::quiet_NaN();
    const ValueGrid grid =
        grid_of({{0, 0}, {1, 0}, {1, 2}, {0, 2}, {0, 1}, {1, 1}}, {1, 2, none, 4, 5, none});
    CHECK(grid.x == std::vector<double>{0, 1});
    CHECK(grid.y == std::vector<double>{0, 1, 2});
    CHECK(grid.at(0, 1) == 5);
    CHECK(grid.at(1, 1) == 3.5); // the mean of 5 and 2
    CHECK(grid.at(1, 2) == 4);
}

TEST_CASE("thinning keeps corners and drops what lies on the line", "[report]") {
    CHECK(thinned({{0, 0}, {1, 0.01}, {2, 0}, {2, 2}}, 0.1) == std::vector<Point>{{0, 0}, {2, 0}, {2, 2}});
    CHECK(thinned({{0, 0}, {1, 0.5}, {2, 0}}, 0.1).size() == 3);
}

TEST_CASE("levels are even and hold all values", "[report]") {
    CHECK(even_levels(0, 4.7, 7) == std::vector<double>{0, 1, 2, 3, 4, 5});
    const auto fine = even_levels(-0.07, 0.24, 7);
    CHECK(fine.front() <= -0.07);
    CHECK(fine.back() >= 0.24);
    CHECK(fine.size() <= 9);
    CHECK(even_levels(0, 5, 5) == std::vector<double>{0, 1, 2, 3, 4, 5});
    CHECK(even_levels(3, 3, 5).size() == 2);
}
