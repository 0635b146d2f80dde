// SPDX-License-Identifier: MIT
#include "solver/shell/tension_across.hpp"

#include "materials/weakest_link.hpp"
#include "solver/model/make_model.hpp"
#include "solver/readout/gather.hpp"
#include "solver/shell/make_shell.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <memory>
#include <numbers>
#include <utility>
#include <vector>

using namespace hollowtop;
using Catch::WithinRel;

namespace {

constexpr int m = 5;

Shell shell_of(const Piece& piece, double size = 100) {
    return make_shell(plane_of(piece), thickness_field(piece, plane_of(piece)), {}, {},
                      {.size = even(size), .order = 4});
}

template <class Shape> Recess recess(Shape shape, double depth) {
    return {.name = "well", .shape = std::move(shape), .depth = depth, .root_radius = 0, .lands = {}};
}

Piece turned_grain(double grain_deg) {
    Piece piece = invented_top();
    piece.top.grain_deg = grain_deg;
    return piece;
}

/// A pull across the grain, nothing along it: strain `even` + `curved` x (height above mid-thickness), times
/// `along` of the place's distance across the grain. A bend has the sign that pulls the top face.
std::vector<double> pulled(const Piece& piece, const Shell& shell, double even_strain, double curvature) {
    const Point a = shell.plane.grain, n{-a.y, a.x};
    const Elastic wood = *piece.top.elastic;
    const double nu21 = wood.nu12 * wood.E2 / wood.E1, h = piece.top.thickness;
    const double at_reference = even_strain + curvature * h / 2;
    return nodal_field(shell, [&](Point p) {
        const double s = a.x * p.x + a.y * p.y, t = n.x * p.x + n.y * p.y;
        const double across = at_reference * t, along = -nu21 * at_reference * s, turn = curvature * t,
                     turn_along = -nu21 * curvature * s;
        return std::array<double, 5>{along * a.x + across * n.x, along * a.y + across * n.y, 0,
                                     turn_along * a.x + turn * n.x, turn_along * a.y + turn * n.y};
    });
}

TensionAcross sum_of(const Shell& shell, const TensionPoints& points, const std::vector<double>& dofs) {
    const std::vector<std::span<const double>> fields{dofs};
    return points.of(shell, m, fields).front();
}

TensionAcross sum_of(const Shell& shell, const std::vector<double>& dofs) {
    return sum_of(shell, TensionPoints(shell, {}), dofs);
}

} // namespace

TEST_CASE(
    "even tension across the grain sums up to s times the fifth root of the volume, however the grain lies",
    "[solver][tension_across][published]") {
    for (const double grain : {0.0, 17.0, 90.0, -38.0}) {
        const Piece piece = turned_grain(grain);
        const Shell shell = shell_of(piece);
        const double s = 800 * 0.002, V = 1000 * 600 * 30;
        const TensionAcross sum = sum_of(shell, pulled(piece, shell, 0.002, 0));
        CHECK_THAT(sum.norm, WithinRel(s * std::pow(V, 0.2), 1e-9));
        CHECK_THAT(sum.peak, WithinRel(s, 1e-9));
        CHECK(sum.thickness == 30);
        CHECK(sum_of(shell, pulled(piece, shell, -0.002, 0)).norm == 0); // pressed
    }
}

TEST_CASE("a bent box bears as hard as under 0.608 of its greatest stress, whichever way it bends",
          "[solver][tension_across][published]") {
    // Weibull 1939: half the thickness is pulled, linearly: s^m V / (2 (m + 1))
    CHECK_THAT(std::pow(12.0, -0.2), WithinRel(0.608, 1e-3));
    const Piece piece = turned_grain(17);
    const Shell shell = shell_of(piece);
    const double s = 800 * 1e-4 * 15, V = 1000 * 600 * 30;
    for (const double curvature : {1e-4, -1e-4})
        CHECK_THAT(sum_of(shell, pulled(piece, shell, 0, curvature)).norm,
                   WithinRel(std::pow(12.0, -0.2) * s * std::pow(V, 0.2), 1e-9));
}

TEST_CASE("membrane and bending add up through the thickness", "[solver][tension_across]") {
    const Piece piece = invented_top();
    const Shell shell = shell_of(piece);
    const double area = 1000 * 600;
    // faces t and b: h/6 (t^6 - b^6)/(t - b) where both are pulled, h/6 t^6/(t - b) where b is pressed;
    // strains 0.001 and 0.0001/mm x 15 mm
    const auto by_hand = [&](double t, double b) {
        const double cut = std::max(b, 0.0);
        return std::pow(area * 30 / 6 * (std::pow(t, 6) - std::pow(cut, 6)) / (t - b), 0.2);
    };
    CHECK_THAT(sum_of(shell, pulled(piece, shell, 0.001, 1e-4)).norm,
               WithinRel(by_hand(800 * 0.0025, 800 * -0.0005), 1e-9));
    CHECK_THAT(sum_of(shell, pulled(piece, shell, 0.002, 1e-4)).norm,
               WithinRel(by_hand(800 * 0.0035, 800 * 0.0005), 1e-9));
    CHECK_THAT(sum_of(shell, pulled(piece, shell, 0.002, -1e-4)).norm,
               WithinRel(by_hand(800 * 0.0035, 800 * 0.0005), 1e-9));
    // a bend so slight that t - b is lost in rounding
    CHECK_THAT(sum_of(shell, pulled(piece, shell, 0.002, 1e-18)).norm,
               WithinRel(1.6 * std::pow(area * 30, 0.2), 1e-9));
}

TEST_CASE("a moment that grows with the distance from an edge sums up to a sixth of the greatest's",
          "[solver][tension_across]") {
    const Piece piece = invented_top();
    const Shell shell = shell_of(piece);
    // s = 3 MPa x y / 600 on both faces: integral of y^5 is a sixth
    const double nu21 = 0.37 * 800 / 11000, e = 3.0 / 800 / 600;
    const std::vector<double> dofs = nodal_field(shell, [&](Point p) {
        return std::array<double, 5>{-nu21 * e * p.x * p.y, e * p.y * p.y / 2, 0, 0, 0};
    });
    const TensionAcross sum = sum_of(shell, dofs);
    CHECK_THAT(sum.norm, WithinRel(3 * std::pow(1000 * 600 * 30 / 6.0, 0.2), 1e-9));
    CHECK(sum.at.y > 590);
}

TEST_CASE("round and hollowed tops give the volume that is not left out", "[solver][tension_across]") {
    const double pi = std::numbers::pi;
    SECTION("an ellipse") {
        Piece piece = invented_top();
        piece.top.outline = EllipseShape{.box = {0, 1000, 0, 600}};
        const Shell shell = shell_of(piece, 60);
        CHECK_THAT(TensionPoints(shell, {}).volume(), WithinRel(pi * 500 * 300 * 30, 1e-4));
    }
    SECTION("a recess with sharp corners: a ring of 12 mm on either side of its walls") {
        Piece piece = invented_top();
        piece.recesses = {recess(RectangleShape{.box = {200, 800, 150, 450}}, 18)};
        const Shell shell = shell_of(piece);
        const double outer = 600 * 300 + 2 * (600 + 300) * 12 + pi * 144, inner = 576 * 276;
        CHECK_THAT(TensionPoints(shell, {}).volume(),
                   WithinRel(30 * (1000 * 600 - outer) + 12 * inner, 1e-5));
    }
    SECTION("a recess with round corners, and a land in it") {
        Piece piece = invented_top();
        piece.recesses = {recess(RectangleShape{.box = {200, 800, 150, 450}, .corner_radius = 40}, 18)};
        piece.recesses[0].lands = {{.name = "land", .shape = RectangleShape{.box = {400, 600, 200, 400}}}};
        const Shell shell = shell_of(piece, 60);
        const double outer = 624 * 324 - (4 - pi) * 52 * 52, inner = 576 * 276 - (4 - pi) * 28 * 28;
        const double about_land = 200 * 200 + 4 * 200 * 12 + pi * 144, land = 176 * 176;
        CHECK_THAT(TensionPoints(shell, {}).volume(),
                   WithinRel(30 * (1000 * 600 - outer + land) + 12 * (inner - about_land), 1e-5));
    }
    SECTION("a rib of 24 mm between two recesses keeps its half") {
        Piece piece = invented_top();
        piece.recesses = {recess(RectangleShape{.box = {100, 488, 100, 500}}, 18),
                          recess(RectangleShape{.box = {512, 900, 100, 500}}, 18)};
        const Shell shell = shell_of(piece);
        const std::vector<double> pull = pulled(piece, shell, 0.002, 0);
        const TensionPoints points(shell, {});
        // each recess: 12 mm about three walls, 6 mm beside the rib, where the rounds of its corners reach 6
        // mm on that side
        const double inner = 2 * (388 - 24) * (400 - 24);
        CHECK(points.volume() > 12.0 * inner);
        piece.recesses.pop_back();
        CHECK(points.volume() < TensionPoints(shell_of(piece), {}).volume());
        CHECK(sum_of(shell, points, pull).norm > 0);
    }
    SECTION("the end of a line within the top, one at its edge, and a corner that points inwards") {
        Piece piece = invented_top();
        const Shell shell = shell_of(piece);
        const std::vector<Point> ends{{500, 290}, {0, 290}};
        CHECK_THAT(TensionPoints(shell, ends).volume(), WithinRel(30 * (1000 * 600 - 1.5 * pi * 900), 1e-6));
        Piece bent = invented_top();
        bent.top.outline =
            PolygonShape{.points = {{0, 0}, {1000, 0}, {1000, 300}, {400, 300}, {400, 600}, {0, 600}}};
        CHECK_THAT(TensionPoints(shell_of(bent), {}).volume(),
                   WithinRel(30 * (1000 * 300 + 400 * 300 - 0.75 * pi * 900), 1e-6));
    }
}

namespace {

/// The sums of a piece's situations on cells of one size.
std::vector<TensionAcross> sums_of(const Piece& piece, double size, int order = 4) {
    const auto model = std::make_shared<const Model>(make_model(
        piece,
        {.shell = {.size = {.largest = size, .at_walls = size / 4, .at_edges = size / 1.5, .growth = 1},
                   .order = order},
         .threads = 1}));
    const std::vector<SolvedSituation> solved = solve_situations(piece, *model);
    std::vector<const SolvedSituation*> all;
    for (const SolvedSituation& s : solved) all.push_back(&s);
    return tension_across_in(model->shell, TensionPoints(model->shell, model->line_ends), all);
}

Piece small_table() {
    Piece piece = plain_piece(600, 400, 20);
    piece.top.elastic = invented_wood();
    piece.self_weight = false;
    for (const Point p : {Point{50, 50}, {550, 50}, {550, 350}, {50, 350}})
        piece.supports.push_back(pad(p, 50));
    return piece;
}

} // namespace

TEST_CASE("the sum settles as the cells shrink from 50 to 15 mm: pad, narrow patch, sharp corner of a recess",
          "[solver][tension_across][slow]") {
    constexpr double settled = 0.01; // what cells of 50 mm may miss
    Piece piece = small_table();
    SECTION("pads under an even load") { piece.loads = {spread(0.002)}; }
    SECTION("a patch of 1 mm") { piece.loads = {patch_of(500, {300, 200}, 1, 1)}; }
    SECTION("a recess with sharp corners") {
        piece.recesses = {recess(RectangleShape{.box = {150, 450, 100, 300}}, 10)};
        piece.loads = {patch_of(500, {300, 200}, 60, 60)};
    }
    SECTION("a line that holds the top and ends within it") {
        piece.supports = {edge({100, 0}, {100, 250}, true), edge({500, 0}, {500, 400}, true)};
        piece.loads = {spread(0.002)};
    }
    CHECK_THAT(sums_of(piece, 50)[0].norm, WithinRel(sums_of(piece, 15)[0].norm, settled));
}

TEST_CASE("twice the load sums up to twice as much, and both together never to more than each alone",
          "[solver][tension_across]") {
    Piece piece = small_table();
    for (Support& support : piece.supports) std::get<Pad>(support.kind).hold_down = true; // linear
    const auto sum = [&](std::vector<Load> loads) {
        piece.loads = std::move(loads);
        return sums_of(piece, 80).front().norm;
    };
    const double one = sum({patch_of(300, {200, 150}, 60, 60)}),
                 other = sum({patch_of(500, {420, 230}, 60, 60)});
    CHECK_THAT(sum({patch_of(600, {200, 150}, 60, 60)}), WithinRel(2 * one, 1e-9));
    const auto both = [&] {
        Load area = spread(0.001, Duration::long_term);
        const double alone = sum({area});
        piece.loads = {area, patch_of(300, {200, 150}, 60, 60)};
        return std::pair{alone, sums_of(piece, 80).back().norm};
    }();
    CHECK(both.second <= both.first + one); // a norm: Minkowski
    CHECK(both.second > std::max(both.first, one));
    CHECK(other > one);
}

TEST_CASE("mirrored and turned by a quarter, a piece sums up the same", "[solver][tension_across]") {
    const auto hollowed = [](Rectangle box, double length, double width, double grain, Point at) {
        Piece piece = plain_piece(length, width, 20);
        piece.top.elastic = invented_wood();
        piece.top.grain_deg = grain;
        piece.self_weight = false;
        for (const Point p : {Point{50, 50}, {length - 50, 50}, {length - 50, width - 50}, {50, width - 50}})
            piece.supports.push_back(pad(p, 50));
        piece.recesses = {recess(RectangleShape{.box = box, .corner_radius = 15}, 10)};
        piece.loads = {patch_of(400, at, 50, 50)};
        return piece;
    };
    const TensionAcross drawn = sums_of(hollowed({120, 420, 90, 300}, 600, 400, 0, {200, 160}), 75).front();
    const TensionAcross mirrored =
        sums_of(hollowed({180, 480, 90, 300}, 600, 400, 0, {400, 160}), 75).front();
    const TensionAcross turned =
        sums_of(hollowed({100, 310, 120, 420}, 400, 600, 90, {240, 200}), 75).front(); // x, y -> 400 - y, x
    CHECK_THAT(mirrored.norm, WithinRel(drawn.norm, 1e-6));
    CHECK_THAT(turned.norm, WithinRel(drawn.norm, 1e-6));
    CHECK_THAT(mirrored.at.x, WithinRel(600 - drawn.at.x, 1e-6));
    CHECK_THAT(turned.at.y, WithinRel(drawn.at.x, 1e-6));
}

TEST_CASE("turned by 17 degrees in its drawing, a piece sums up the same within what its cells err",
          "[solver][tension_across][slow]") {
    const auto drawn_at = [](double deg) {
        const double c = std::cos(deg * std::numbers::pi / 180), s = std::sin(deg * std::numbers::pi / 180);
        const auto at = [&](double x, double y) { return Point{150 + c * x - s * y, 10 + s * x + c * y}; };
        Piece piece = plain_piece(1000, 1000, 20);
        piece.top.outline = PolygonShape{.points = {at(0, 0), at(600, 0), at(600, 400), at(0, 400)}};
        piece.top.elastic = invented_wood();
        piece.top.grain_deg = deg;
        piece.self_weight = false;
        piece.recesses = {
            recess(PolygonShape{.points = {at(150, 100), at(450, 100), at(450, 300), at(150, 300)}}, 10)};
        for (const double x : {60.0, 540.0})
            piece.supports.push_back(
                {.name = "bearer",
                 .kind = Bearer{
                     .from = at(x, 20), .to = at(x, 380), .width = 40, .hold_down = false, .stiffness = {}}});
        piece.loads = {spread(0.003)};
        return piece;
    };
    // walls that cut across cells err more: within 2 %
    CHECK_THAT(sums_of(drawn_at(17), 40).front().norm,
               WithinRel(sums_of(drawn_at(0), 40).front().norm, 0.02));
}

TEST_CASE("what a field sums up to does not depend on those beside it", "[solver][tension_across]") {
    const Piece piece = invented_top();
    const Shell shell = shell_of(piece, 200);
    const TensionPoints points(shell, {});
    std::vector<std::vector<double>> dofs;
    for (int k = 0; k < 11; ++k) dofs.push_back(pulled(piece, shell, 0.001 * (k - 3), 1e-5 * k));
    const std::vector<std::span<const double>> fields(dofs.begin(), dofs.end());
    const std::vector<TensionAcross> together = points.of(shell, m, fields);
    for (std::size_t k = 0; k < dofs.size(); ++k) {
        const TensionAcross alone = sum_of(shell, points, dofs[k]);
        CHECK(together[k].norm == alone.norm);
        CHECK(together[k].at == alone.at);
        CHECK(together[k].peak == alone.peak);
    }
}

TEST_CASE("the solver's exponent is the table's", "[solver][tension_across]") {
    CHECK(materials::weakest_link().exponent == m);
}
