// SPDX-License-Identifier: MIT
#include "solver/readout/skin_buckling.hpp"

#include "solver/model/make_model.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <memory>
#include <numbers>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

namespace {

Matrix3 isotropic_Q() {
    return plane_stiffness({.E1 = 10000,
                            .E2 = 10000,
                            .nu12 = 0.3,
                            .G12 = 10000 / 2.6,
                            .G13 = 3846,
                            .G23 = 3846,
                            .density_kg_m3 = 600},
                           0)
        .Q;
}
/// Under forces that are the same everywhere.
std::optional<double> buckling(const Matrix3& Q, double thickness, const Rectangle& box, PlateEdges edges,
                               const PlaneForces& even) {
    const PressedPlate plate(Q, thickness, box, edges);
    return plate.buckling(std::vector<PlaneForces>(plate.points().size(), even));
}
constexpr Rectangle square{0, 400, 0, 400};

} // namespace

TEST_CASE("square plates buckle at the published loads", "[solver][buckling][published]") {
    // Timoshenko and Gere, Theory of Elastic Stability, 1961, art. 9.2, tables 9.8 and 9.10 (from memory): N
    // = k pi^2 D / b^2 with k 4 simply supported, 10.07 clamped, 9.34 in shear. 1 % asked
    const double D = 10000 * 64.0 / 12 / (1 - 0.09),
                 unit = std::numbers::pi * std::numbers::pi * D / (400.0 * 400.0);
    CHECK_THAT(*buckling(isotropic_Q(), 4, square, PlateEdges::simply_supported, {-1, 0, 0}),
               WithinRel(4 * unit, 0.001));
    CHECK_THAT(*buckling(isotropic_Q(), 4, square, PlateEdges::clamped, {-1, 0, 0}),
               WithinRel(10.07 * unit, 0.01));
    CHECK_THAT(*buckling(isotropic_Q(), 4, square, PlateEdges::simply_supported, {0, 0, 1}),
               WithinRel(9.34 * unit, 0.01));
}

TEST_CASE("a skin of wood buckles at the orthotropic formula's load", "[solver][buckling]") {
    // N = (pi / m)^2 ... least over m of pi^2 (D11 (m/a)^2 + 2 (D12 + 2 D66) / b^2 + D22 a^2 / (m^2 b^4));
    // invented constants
    const double E1 = 12000, E2 = 700, nu = 0.4, G = 800, a = 1000, b = 500, t = 6, d = 1 - nu * nu * E2 / E1,
                 I = t * t * t / 12;
    const Matrix3 Q =
        plane_stiffness(
            {.E1 = E1, .E2 = E2, .nu12 = nu, .G12 = G, .G13 = G, .G23 = 150, .density_kg_m3 = 600}, 0)
            .Q;
    double least = 1e9;
    for (int m = 1; m < 5; ++m)
        least = std::min(least, std::pow(std::numbers::pi, 2) * I *
                                    (E1 / d * m * m / (a * a) + 2 * (nu * E2 / d + 2 * G) / (b * b) +
                                     E2 / d * a * a / (m * m * b * b * b * b)));
    CHECK_THAT(*buckling(Q, t, {0, a, 0, b}, PlateEdges::simply_supported, {-1, 0, 0}),
               WithinRel(least, 0.001));
}

TEST_CASE("a leaning recess buckles like the same one along x and y", "[solver][buckling][turn]") {
    // 1e-9: rounding of sines and cosines
    const Elastic wood{
        .E1 = 12000, .E2 = 700, .nu12 = 0.4, .G12 = 800, .G13 = 800, .G23 = 150, .density_kg_m3 = 600};
    constexpr double length = 620, width = 340;
    const PlaneForces straight{-2, 0.4, 0.7};
    const double factor = *buckling(plane_stiffness(wood, 20).Q, 6, {0, length, 0, width},
                                    PlateEdges::simply_supported, straight);
    for (const double degrees : {17.0, 33.0, 90.0, 123.0}) {
        const double angle = degrees * std::numbers::pi / 180, c = std::cos(angle), s = std::sin(angle);
        const auto turned = [&](double x, double y) {
            return Point{500 + c * x - s * y, 300 + s * x + c * y};
        };
        const LeaningBox box = smallest_box(loop_of(PolygonShape{
            .points = {turned(0, 0), turned(length, 0), turned(length, width), turned(0, width)}}));
        CHECK_THAT((box.box.x1 - box.box.x0) * (box.box.y1 - box.box.y0), WithinRel(length * width, 1e-9));
        // the forces of the turned piece in x and y, then in the recess's own axes
        const PlaneForces forces = in_axes(straight, {c, -s});
        const PressedPlate plate(in_axes(plane_stiffness(wood, 20 + degrees).Q, box.along), 6, box.box,
                                 PlateEdges::simply_supported);
        const std::vector<PlaneForces> even(plate.points().size(), in_axes(forces, box.along));
        CHECK_THAT(*plate.buckling(even), WithinRel(factor, 1e-9));
    }
}

TEST_CASE("the smallest box about an oval lies along its axes", "[solver][buckling]") {
    const Rectangle about{100, 900, 50, 450};
    const LeaningBox box = smallest_box(loop_of(EllipseShape{.box = about}));
    CHECK(box.along == Point{1, 0});
    CHECK(box.box == about);
}

TEST_CASE("a plate that is only pulled never buckles", "[solver][buckling]") {
    CHECK_FALSE(buckling(isotropic_Q(), 4, square, PlateEdges::simply_supported, {1, 2, 0}));
}

TEST_CASE("a skin's factor falls as the load grows and as the skin thins", "[solver][buckling]") {
    const auto factor = [](double pressure, double depth) {
        Piece piece = invented_top();
        for (const Point& p : {Point{60, 60}, {940, 60}, {940, 540}, {60, 540}})
            piece.supports.push_back(pad(p, 60, true));
        piece.recesses = {{.name = "",
                           .shape = RectangleShape{.box = {100, 900, 100, 500}, .corner_radius = 0},
                           .depth = depth,
                           .root_radius = 0,
                           .lands = {}}};
        piece.loads = {spread(pressure)};
        const Model model = make_model(piece, coarse());
        return *skin_buckling(model.shell, skin_points(model.shell), solve_situations(piece, model).front());
    };
    const double first = factor(0.0004, 20);
    CHECK(first > 0);
    CHECK_THAT(factor(0.0008, 20), WithinRel(first / 2, 1e-6)); // linear
    CHECK(factor(0.0004, 25) < first);
}
