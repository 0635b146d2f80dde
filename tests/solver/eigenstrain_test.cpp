// SPDX-License-Identifier: MIT
// Bimetal strip: Timoshenko, Analysis of bi-metal thermostats, J. Opt. Soc. Am. 11, 1925:
//     curvature = 6 d (1 + m)^2 / (h (3 (1 + m)^2 + (1 + m n)(m^2 + 1 / (m n)))),  m = h1 / h2, n = E1 / E2, h = h1 + h2
#include "solver/shell/eigenstrain.hpp"

#include "solver/model/make_model.hpp"
#include "solver/model/model.hpp"
#include "solver/model/rigid_motions.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double rounding = 1e-12;

double bimetal_curvature(double h1, double h2, double E1, double E2, double difference) {
    const double m = h1 / h2, n = E1 / E2, one = (1 + m) * (1 + m);
    return 6 * difference * one / ((h1 + h2) * (3 * one + (1 + m * n) * (m * m + 1 / (m * n))));
}

StraightStrain two_layers(double h1, double h2, double E1, double E2, double difference) {
    const std::vector<FreeLayer> layers{
        {.thickness = h1, .modulus = E1, .strain_above = difference, .strain_below = difference},
        {.thickness = h2, .modulus = E2, .strain_above = 0, .strain_below = 0}};
    return free_strain(layers);
}

} // namespace

TEST_CASE("two layers that swell unlike each other bend as the bimetal strip does", "[solver][published]") {
    // the two printed curvatures are the formula above, worked out by another hand to nine digits
    CHECK_THAT(two_layers(10, 10, 700, 700, 0.004).slope, WithinRel(0.0003, 1e-9));
    CHECK_THAT(two_layers(3, 17, 4000, 700, 0.003).slope, WithinRel(0.000200706118, 1e-8));
    for (const double E1 : {50.0, 700.0, 12000.0})
        for (const double h1 : {1.0, 7.0, 30.0})
            CHECK_THAT(two_layers(h1, 12, E1, 700, 0.002).slope,
                       WithinRel(bimetal_curvature(h1, 12, E1, 700, 0.002), rounding * 100));
}

TEST_CASE("a straight profile curves by the difference over the thickness", "[solver][published]") {
    const std::vector<FreeLayer> layer{
        {.thickness = 20, .modulus = 700, .strain_above = 0.003, .strain_below = 0}};
    const StraightStrain strain = free_strain(layer);
    CHECK_THAT(strain.slope, WithinRel(0.003 / 20, rounding));
    CHECK_THAT(strain.at_top, WithinRel(0.003, rounding));
}

TEST_CASE("a straight profile cut into layers is the same profile", "[solver]") {
    std::vector<FreeLayer> cut;
    for (int i = 0; i < 4; ++i)
        cut.push_back({.thickness = 5,
                       .modulus = 3,
                       .strain_above = 0.004 - 0.001 * i,
                       .strain_below = 0.003 - 0.001 * i});
    const StraightStrain strain = free_strain(cut);
    CHECK_THAT(strain.slope, WithinRel(0.004 / 20, rounding * 100));
    CHECK_THAT(strain.at_top, WithinRel(0.004, rounding * 100));
}

TEST_CASE("a strain in one direction is turned as a strain turns", "[solver]") {
    const double s = std::sqrt(0.5);
    const auto e = strain_in_direction({.at_top = 0.002, .slope = 1e-4}, {-s, s}, 0);
    CHECK_THAT(e[0], WithinRel(0.001, rounding));
    CHECK_THAT(e[1], WithinRel(0.001, rounding));
    CHECK_THAT(e[2], WithinRel(-0.002, rounding)); // shear strain as an angle
    CHECK_THAT(e[5], WithinRel(-1e-4, rounding));
    // about a surface 10 mm lower the stretch is that of the height there
    CHECK_THAT(strain_in_direction({.at_top = 0.002, .slope = 1e-4}, {0, 1}, 10)[1],
               WithinRel(0.001, rounding));
}

TEST_CASE("the forces of a free strain are in balance among themselves", "[solver]") {
    Piece piece;
    piece.top.length = 900;
    piece.top.width = 500;
    piece.top.thickness = 30;
    piece.top.wood = "cherry_black";
    piece.top.outline = RectangleShape{{0, 900, 0, 500}, 0};
    piece.recesses.push_back(
        {.name = "well", .shape = RectangleShape{{100, 800, 90, 410}, 10}, .depth = 14, .lands = {}});
    piece.self_weight = false;
    const Model model = make_unfactored_model(
        piece,
        {.shell = {.size = {.largest = 150, .at_walls = 60, .at_edges = 100, .growth = 1}, .order = 3}});
    const Shell& shell = model.shell;
    const std::vector<double> forces = eigenstrain_forces(shell, [&](SectionRegion place) {
        return strain_in_direction(
            {.at_top = 0.002, .slope = 0.002 / thickness_of(shell.field, place.region)}, {0.6, 0.8}, 0);
    });
    double greatest = 0;
    for (const double f : forces) greatest = std::max(greatest, std::abs(f));
    CHECK(greatest > 1);
    for (const std::vector<double>& motion : free_rigid_motions(shell)) {
        double work = 0, size = 0;
        for (size_t i = 0; i < forces.size(); ++i) {
            work += motion[i] * forces[i];
            size += std::abs(motion[i] * forces[i]);
        }
        CHECK_THAT(work, WithinAbs(0, 1e-9 * size + 1e-9)); // sums of some thousand terms of that size
    }
}
