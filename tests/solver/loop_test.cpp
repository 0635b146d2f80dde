// SPDX-License-Identifier: MIT
#include "solver/piece/loop.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double pi = std::numbers::pi;
/// Closed forms against sums of a few terms: some units in the last of sixteen digits.
constexpr double rounding = 1e-13;

const RectangleShape rounded_box{.box = {100, 900, 50, 450}, .corner_radius = 60};
const EllipseShape oval{.box = {0, 1200, 0, 700}};
const PolygonShape ell{.points = {{0, 0}, {800, 0}, {800, 300}, {300, 300}, {300, 600}, {0, 600}},
                       .corner_radius = 0};

/// Points along the loop, `steps` a piece.
std::vector<Point> points_along(const Loop& loop, int steps) {
    std::vector<Point> points;
    for (const EdgePiece& piece : loop)
        for (int k = 0; k < steps; ++k) {
            const double s = static_cast<double>(k) / steps;
            if (!piece.is_arc) {
                points.push_back(
                    {piece.a.x + s * (piece.b.x - piece.a.x), piece.a.y + s * (piece.b.y - piece.a.y)});
                continue;
            }
            const auto angle = [&](Point p) {
                return std::atan2((p.y - piece.centre.y) / piece.ry, (p.x - piece.centre.x) / piece.rx);
            };
            const double from = angle(piece.a);
            double turn = angle(piece.b) - from;
            if (turn > pi) turn -= 2 * pi;
            if (turn < -pi) turn += 2 * pi;
            const double t = from + s * turn;
            points.push_back(
                {piece.centre.x + piece.rx * std::cos(t), piece.centre.y + piece.ry * std::sin(t)});
        }
    return points;
}

double distance(Point a, Point b) { return std::hypot(a.x - b.x, a.y - b.y); }

double distance_to(const Loop& loop, Point p) {
    double least = std::numeric_limits<double>::max();
    for (const EdgePiece& piece : loop) least = std::min(least, nearest_on(piece, p).distance);
    return least;
}

bool is_closed(const Loop& loop) {
    for (std::size_t k = 0; k < loop.size(); ++k)
        if (!(loop[k].b == loop[(k + 1) % loop.size()].a)) return false;
    return true;
}

} // namespace

TEST_CASE("a loop closes to the last bit and runs counter-clockwise", "[solver][piece]") {
    PolygonShape clockwise = ell, round = ell;
    std::reverse(clockwise.points.begin(), clockwise.points.end());
    round.corner_radius = 40;
    for (const Loop& loop : {loop_of(rounded_box), loop_of(RectangleShape{.box = {0, 10, 0, 20}}),
                             loop_of(oval), loop_of(ell), loop_of(clockwise), loop_of(round)}) {
        CHECK(is_closed(loop));
        CHECK(area_of(loop) > 0);
    }
}

TEST_CASE("a piece along x or y is told from a slanting or a round one", "[solver][piece]") {
    const auto side = [](Point a, Point b) { return EdgePiece{.a = a, .b = b}; };
    CHECK(runs_along_x_or_y(side({0, 50}, {900, 50})));
    CHECK(runs_along_x_or_y(side({120, 0}, {120, -300})));
    CHECK(runs_along_x_or_y(side({120, 0}, {120 + 1e-13, 300}))); // as a rim comes out of its outline
    CHECK_FALSE(runs_along_x_or_y(side({120, 0}, {120 + 1e-6, 300})));
    for (const EdgePiece& piece : loop_of(oval)) CHECK_FALSE(runs_along_x_or_y(piece));
    const Loop rounded = loop_of(rounded_box);
    CHECK(std::count_if(rounded.begin(), rounded.end(), runs_along_x_or_y) == 4);
}

TEST_CASE("areas follow from the drawing", "[solver][piece]") {
    CHECK_THAT(area_of(loop_of(RectangleShape{.box = {-3, 7, 2, 6}})), WithinRel(40, rounding));
    CHECK_THAT(area_of(loop_of(rounded_box)), WithinRel(800.0 * 400 - (4 - pi) * 60 * 60, rounding));
    CHECK_THAT(area_of(loop_of(oval)), WithinRel(pi * 600 * 350, rounding));
    CHECK_THAT(area_of(loop_of(ell)), WithinRel(800.0 * 300 + 300.0 * 300, rounding));
    // five corners lose a corner's worth, the inner one gains it
    PolygonShape round = ell;
    round.corner_radius = 50;
    CHECK_THAT(area_of(loop_of(round)), WithinRel(330000 - 4 * (1 - pi / 4) * 50 * 50, rounding));
    // a corner of angle c loses r^2 (cot(c/2) - (pi - c)/2): equilateral triangle
    const double side = 300, r = 20, height = side * std::sqrt(3) / 2;
    const PolygonShape triangle{.points = {{0, 0}, {side, 0}, {side / 2, height}}, .corner_radius = r};
    CHECK_THAT(area_of(loop_of(triangle)),
               WithinRel(side * height / 2 - 3 * r * r * (std::sqrt(3) - pi / 3), rounding));
}

TEST_CASE("a clockwise polygon is the same top", "[solver][piece]") {
    PolygonShape clockwise = ell;
    std::reverse(clockwise.points.begin(), clockwise.points.end());
    CHECK(area_of(loop_of(clockwise)) == area_of(loop_of(ell)));
}

TEST_CASE("bounds are the drawing's", "[solver][piece]") {
    CHECK(bounds_of(loop_of(rounded_box)) == rounded_box.box);
    CHECK(bounds_of(loop_of(ell)) == Rectangle{0, 800, 0, 600});
    CHECK(bounds_of(loop_of(oval)) == oval.box);
}

TEST_CASE("inside is what the equation of the shape says", "[solver][piece]") {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> x(-100, 1300), y(-100, 800);
    const Loop box_loop = loop_of(rounded_box), oval_loop = loop_of(oval), ell_loop = loop_of(ell);
    int inside_box = 0, inside_oval = 0, inside_ell = 0;
    for (int k = 0; k < 20000; ++k) {
        const Point p{x(random), y(random)};
        const double ex = (p.x - 600) / 600, ey = (p.y - 350) / 350;
        const bool in_oval = ex * ex + ey * ey < 1;
        // the rounded rectangle is all within the radius of the rectangle less the radius
        const double dx = std::max({160 - p.x, p.x - 840, 0.0}), dy = std::max({110 - p.y, p.y - 390, 0.0});
        const bool in_box = std::hypot(dx, dy) < 60;
        const bool in_ell = p.x > 0 && p.y > 0 && p.x < 800 && p.y < 600 && (p.x < 300 || p.y < 300);
        REQUIRE(is_inside(oval_loop, p) == in_oval);
        REQUIRE(is_inside(box_loop, p) == in_box);
        REQUIRE(is_inside(ell_loop, p) == in_ell);
        inside_box += in_box;
        inside_oval += in_oval;
        inside_ell += in_ell;
    }
    CHECK(std::min({inside_box, inside_oval, inside_ell}) > 1000); // each side was really tried
}

TEST_CASE("a piece answers where it crosses an x and a y, and the two agree", "[solver][piece]") {
    for (const Loop& loop :
         {loop_of(rounded_box), loop_of(oval),
          loop_of(PolygonShape{.points = {{0, 0}, {500, 30}, {260, 400}}, .corner_radius = 45})})
        for (const EdgePiece& piece : loop) {
            const Rectangle box = bounds_of(piece);
            for (const double share : {0.07, 0.5, 0.93}) {
                const double x = box.x0 + share * (box.x1 - box.x0);
                const auto y = y_at(piece, x);
                if (box.x1 == box.x0) {
                    CHECK_FALSE(y);
                    continue;
                }
                REQUIRE(y);
                if (piece.is_arc)
                    CHECK_THAT(std::pow((x - piece.centre.x) / piece.rx, 2) +
                                   std::pow((*y - piece.centre.y) / piece.ry, 2),
                               WithinRel(1, 1e-12));
                if (box.y1 > box.y0) {
                    const auto back = x_at(piece, *y);
                    REQUIRE(back);
                    // near the turning point of an arc half of the digits of the root are lost
                    CHECK_THAT(*back, WithinAbs(x, 1e-9));
                }
            }
            CHECK_FALSE(y_at(piece, box.x0 - 1));
            CHECK_FALSE(x_at(piece, box.y1 + 1));
        }
}

TEST_CASE("the nearest point on an edge is nearer than any other on it", "[solver][piece]") {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> x(-200, 1400), y(-200, 900);
    constexpr int steps = 20000;
    for (const Loop& loop : {loop_of(rounded_box), loop_of(oval), loop_of(ell)}) {
        const std::vector<Point> along = points_along(loop, steps);
        for (int k = 0; k < 60; ++k) {
            const Point p{x(random), y(random)};
            double least = std::numeric_limits<double>::max();
            for (const Point& q : along) least = std::min(least, distance(p, q));
            const double found = distance_to(loop, p);
            CHECK(found <= least + 1e-9);
            // the samples are under 0.1 mm apart, so the nearest of them is at most 0.05 mm from the foot
            CHECK(found >= least - 0.05);
        }
    }
}

TEST_CASE("the normal at the nearest point leads out of the loop", "[solver][piece]") {
    PolygonShape round = ell;
    round.corner_radius = 50; // with a hollow corner
    for (const Loop& loop : {loop_of(rounded_box), loop_of(oval), loop_of(ell), loop_of(round)})
        for (const EdgePiece& piece : loop) {
            const Rectangle box = bounds_of(piece);
            Point middle{(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
            if (piece.is_arc) middle.y = y_at(piece, middle.x).value();
            const Nearest nearest = nearest_on(piece, middle);
            CHECK_THAT(std::hypot(nearest.outward.x, nearest.outward.y), WithinRel(1, 1e-12));
            CHECK_FALSE(is_inside(loop, {nearest.foot.x + 0.01 * nearest.outward.x,
                                         nearest.foot.y + 0.01 * nearest.outward.y}));
            CHECK(is_inside(loop, {nearest.foot.x - 0.01 * nearest.outward.x,
                                   nearest.foot.y - 0.01 * nearest.outward.y}));
        }
}

TEST_CASE("past an end the end is nearest, and it is said so", "[solver][piece]") {
    const EdgePiece side{.a = {10, 5}, .b = {40, 5}};
    CHECK(nearest_on(side, {0, 5}).at_end);
    CHECK(nearest_on(side, {0, 5}).distance == 10);
    CHECK_FALSE(nearest_on(side, {20, 9}).at_end);
    CHECK(nearest_on(side, {20, 9}).distance == 4);
}

TEST_CASE("the nearest place on a piece of a circle is nearer than any other, all round it",
          "[solver][piece]") {
    for (const EdgePiece& piece : loop_of(RectangleShape{.box = {0, 200, 0, 150}, .corner_radius = 40})) {
        if (!piece.is_arc) continue;
        for (int k = 0; k < 24; ++k)
            for (const double from_centre : {5.0, 40.0, 90.0}) {
                const double angle = 0.2 + k * std::acos(-1.0) / 12;
                const Point p{piece.centre.x + from_centre * std::cos(angle),
                              piece.centre.y + from_centre * std::sin(angle)};
                constexpr int places = 2000;
                double least = 1e9;
                for (int i = 0; i <= places; ++i) {
                    const Point at = point_on(piece, static_cast<double>(i) / places);
                    least = std::min(least, std::hypot(p.x - at.x, p.y - at.y));
                }
                const Nearest nearest = nearest_on(piece, p);
                CAPTURE(k, from_centre);
                CHECK(nearest.distance <= least + 1e-9);
                CHECK(nearest.distance > least - 0.016); // the places stand 0.031 mm apart
                CHECK_THAT(std::hypot(nearest.foot.x - piece.centre.x, nearest.foot.y - piece.centre.y),
                           WithinRel(40, 1e-12));
            }
    }
}

TEST_CASE("every point of an inset lies one rim from the outline", "[solver][piece]") {
    // chords of the inset of an oval stray up to 0.02 mm (loop.hpp); straight and circular outlines not at
    // all
    const auto farthest_stray = [](const auto& outline, double rim) {
        const Loop outer = loop_of(outline), inner = inset(outline, rim, 0);
        REQUIRE_FALSE(inner.empty());
        CHECK(is_closed(inner));
        double stray = 0;
        for (const Point& p : points_along(inner, 16)) {
            REQUIRE(is_inside(outer, p));
            stray = std::max(stray, std::abs(distance_to(outer, p) - rim));
        }
        return stray;
    };
    CHECK(farthest_stray(rounded_box, 40) < 1e-9);
    CHECK(farthest_stray(RectangleShape{.box = {0, 600, 0, 300}}, 90) < 1e-9);
    CHECK(farthest_stray(EllipseShape{.box = {0, 800, 0, 800}}, 120) < 1e-9);
    CHECK(farthest_stray(oval, 110) < 0.02);
    CHECK(farthest_stray(EllipseShape{.box = {0, 2100, 0, 1100}}, 130) < 0.02);
    CHECK(
        farthest_stray(PolygonShape{.points = {{0, 0}, {900, 0}, {700, 500}, {100, 450}}, .corner_radius = 0},
                       60) < 1e-9);
}

TEST_CASE("a rim that leaves nothing leaves an empty loop", "[solver][piece]") {
    CHECK(inset(RectangleShape{.box = {0, 600, 0, 300}}, 150, 0).empty());
    CHECK(inset(oval, 350, 0).empty());
    CHECK(inset(oval, 600, 0).empty());
    CHECK(inset(PolygonShape{.points = {{0, 0}, {300, 0}, {150, 200}}, .corner_radius = 0}, 120, 0).empty());
    CHECK_FALSE(inset(RectangleShape{.box = {0, 600, 0, 300}}, 149, 0).empty());
}

TEST_CASE("a rim wider than the radius of an oval's ends leaves what lies further from the edge, as far as "
          "the cutter reaches",
          "[solver][piece]") {
    // the ends' radius is b^2 / a = 204 mm: of the rims the first is less with the cutter too, the second
    // without it alone
    for (const EllipseShape& shape : {oval, EllipseShape{.box = {0, 700, 0, 1200}}}) {
        const Loop outer = loop_of(shape);
        for (const double rim : {90.0, 180.0, 260.0}) {
            const Loop pointed = inset(shape, rim, 0);
            const double cutter = 40;
            const Loop round = inset(shape, rim, cutter), centres = inset(shape, rim + cutter, 0);
            REQUIRE(is_closed(pointed));
            REQUIRE(is_closed(round));
            CHECK(area_of(round) < area_of(pointed) + 1e-6);
            CAPTURE(rim);
            for (double x = 3; x < shape.box.x1; x += 11.7)
                for (double y = 3; y < shape.box.y1; y += 11.7) {
                    const Point p{x, y};
                    if (!is_inside(outer, p)) continue;
                    const double depth = distance_to(outer, p) - rim;
                    if (std::abs(depth) > 0.05) REQUIRE(is_inside(pointed, p) == (depth > 0));
                    const double from_centres = is_inside(centres, p) ? 0 : distance_to(centres, p);
                    if (std::abs(from_centres - cutter) > 0.05)
                        REQUIRE(is_inside(round, p) == (from_centres < cutter));
                }
        }
    }
}

TEST_CASE("the cutter's radius rounds the corners of an inset", "[solver][piece]") {
    const Loop loop = inset(RectangleShape{.box = {0, 600, 0, 300}}, 50, 12);
    CHECK_THAT(area_of(loop), WithinRel(500.0 * 200 - (4 - pi) * 144, rounding));
    // an outline rounder than the rim is wide leaves the rest of its radius
    CHECK_THAT(area_of(inset(rounded_box, 40, 0)), WithinRel(720.0 * 320 - (4 - pi) * 400, rounding));
}

TEST_CASE("rows of a long loop change no answer, and a short loop has none", "[solver][piece]") {
    const Loop oval = inset(EllipseShape{{0, 2100, 0, 1100}}, 130, 0);
    const LoopRows rows = rows_of(oval);
    REQUIRE(rows.pieces.size() == oval.size());
    int n_inside = 0;
    const auto same = [&](Point p) {
        const bool inside = is_inside(oval, p);
        n_inside += inside;
        REQUIRE(is_inside(oval, rows, p) == inside);
    };
    for (double y = -20; y < 1130; y += 7.3)
        for (double x = -20; x < 2130; x += 13.1) same({x, y});
    for (const EdgePiece& piece : oval) // on the levels of the corners, where two pieces meet
        for (const double dx : {-0.1, 0.1}) same({piece.a.x + dx, piece.a.y});
    CHECK(n_inside > 5000);
    CHECK(rows_of(loop_of(RectangleShape{{0, 10, 0, 10}, 2})).pieces.empty());
}
