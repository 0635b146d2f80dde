// SPDX-License-Identifier: MIT
#include "solver/shell/recovery.hpp"

#include "solver/shell/make_shell.hpp"
#include "solver/shell/movement_form.hpp"
#include "tests/solver/shell_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const Elastic wood{
    .E1 = 12000, .E2 = 700, .nu12 = 0.4, .G12 = 800, .G13 = 800, .G23 = 150, .density_kg_m3 = 680};
/// Fields within the elements' reach come back to rounding; slopes of values near one over cells of tens of
/// mm.
constexpr double rounding = 1e-10;

Shell shell_of(const Piece& piece, bool with_wall_compliance = false, double depth = 0) {
    const PlaneStiffness plane = plane_stiffness(wood, piece.top.grain_deg);
    return make_shell(plane, thickness_field(piece, plane, with_wall_compliance), {}, {},
                      {.size = even(110),
                       .order = 4,
                       .with_wall_compliance = with_wall_compliance,
                       .reference_depth = depth});
}

Recess recess(Rectangle box, double depth) {
    return {.name = "well",
            .shape = RectangleShape{.box = box, .corner_radius = 0},
            .depth = depth,
            .root_radius = 0,
            .lands = {}};
}

} // namespace

TEST_CASE("the mean of a strain over a square is its exact mean", "[solver][recovery]") {
    // u = x^3: e_x = 3 x^2, whose mean over a side s about x is 3 x^2 + s^2/4; the square lies across mesh
    // lines
    const Shell shell = shell_of(plain_piece(1000, 600, 30));
    const auto dofs = nodal_field(shell, [](Point p) {
        return std::array<double, 5>{1e-9 * p.x * p.x * p.x, 0, 0, 0, 0};
    });
    for (const double side : {0.0, 4.0, 30.0, 250.0}) {
        const auto strains = strains_of(shell, strain_mean(shell, {430, 290}, side), dofs);
        INFO(side);
        CHECK_THAT(strains[0], WithinRel(1e-9 * (3 * 430.0 * 430 + side * side / 4), rounding));
        CHECK_THAT(strains[1], WithinAbs(0, 1e-15));
    }
}

TEST_CASE("all eight strains come from their own movements", "[solver][recovery]") {
    const Shell shell = shell_of(plain_piece(1000, 600, 30));
    const auto dofs = nodal_field(shell, [](Point p) {
        return std::array<double, 5>{1e-4 * p.x + 3e-4 * p.y, 2e-4 * p.y - 1e-4 * p.x,
                                     5e-4 * p.x - 7e-4 * p.y, 1e-5 * p.x + 4e-5 * p.y,
                                     2e-5 * p.y + 6e-5 * p.x};
    });
    const Point p{320, 210};
    const auto e = strains_of(shell, strain_mean(shell, p), dofs);
    const std::array<double, 8> expected{1e-4,
                                         2e-4,
                                         3e-4 - 1e-4,
                                         1e-5,
                                         2e-5,
                                         4e-5 + 6e-5,
                                         5e-4 + 1e-5 * p.x + 4e-5 * p.y,
                                         -7e-4 + 2e-5 * p.y + 6e-5 * p.x};
    for (std::size_t k = 0; k < 8; ++k) CHECK_THAT(e[k], WithinRel(expected[k], rounding));
}

TEST_CASE("stresses are told along and across the grain, and each face by its own height",
          "[solver][recovery]") {
    // a pull of strain 1e-4 along the grain at 30 degrees and nothing else: stress E1/(1 - nu12 nu21) along,
    // nu12 E2/(1 - ..) across
    Piece piece = plain_piece(1000, 600, 30);
    piece.top.grain_deg = 30;
    for (const double depth : {0.0, 15.0, 30.0}) {
        const Shell shell = shell_of(piece, false, depth);
        const double c = std::cos(std::numbers::pi / 6), s = std::sin(std::numbers::pi / 6);
        const double e = 1e-4, k = -2e-6; // curved down in the middle: the underside is pulled
        const auto dofs = nodal_field(shell, [&](Point p) {
            const double along = c * p.x + s * p.y;
            // turned so that only the strain along the grain is not zero; w answers the turning without shear
            return std::array<double, 5>{c * e * along, s * e * along, -k * along * along / 2, c * k * along,
                                         s * k * along};
        });
        const StressSample stress = stress_of(shell, strain_mean(shell, {500, 300}), dofs);
        const double scale = 1 - 0.4 * 0.4 * 700 / 12000;
        const double at_top = e + depth * k, at_bottom = e + (depth - 30) * k;
        INFO("reference " << depth);
        CHECK_THAT(stress.top[0], WithinRel(12000 / scale * at_top, rounding));
        CHECK_THAT(stress.bottom[0], WithinRel(12000 / scale * at_bottom, rounding));
        CHECK_THAT(stress.top[1], WithinRel(0.4 * 700 / scale * at_top, 10 * rounding));
        CHECK_THAT(stress.bottom[2], WithinAbs(0, 1e-9)); // MPa: rounding of stresses of order one
        CHECK_THAT(stress.shear[0], WithinAbs(0, 1e-9));
    }
}

TEST_CASE("shear through the thickness peaks at one and a half times its mean", "[solver][recovery]") {
    // parabola over the thickness; along the grain at 90 degrees is y
    Piece piece = plain_piece(1000, 600, 30);
    piece.top.grain_deg = 90;
    const Shell shell = shell_of(piece);
    const auto dofs = nodal_field(shell, [](Point p) {
        return std::array<double, 5>{0, 0, 1e-3 * p.x + 2e-3 * p.y, 0, 0};
    });
    const StressSample stress = stress_of(shell, strain_mean(shell, {500, 300}), dofs);
    CHECK_THAT(stress.shear[0], WithinRel(1.5 * 5.0 / 6 * 800 * 2e-3, rounding));
    CHECK_THAT(stress.shear[1], WithinRel(-1.5 * 5.0 / 6 * 150 * 1e-3, rounding));
}

TEST_CASE("a mean stays on its own side of a wall", "[solver][recovery]") {
    // a strain that differs on the two sides: u = |x - 200| beside the wall at 200
    Piece piece = plain_piece(1000, 600, 30);
    piece.recesses.push_back(recess({200, 800, 150, 450}, 18));
    const Shell shell = shell_of(piece);
    const auto dofs = nodal_field(shell, [](Point p) {
        return std::array<double, 5>{1e-4 * std::abs(p.x - 200), 0, 0, 0, 0};
    });
    CHECK_THAT(strains_of(shell, strain_mean(shell, {199, 300}), dofs)[0], WithinRel(-1e-4, rounding));
    CHECK_THAT(strains_of(shell, strain_mean(shell, {201, 300}), dofs)[0], WithinRel(1e-4, rounding));
    CHECK(strain_mean(shell, {199, 300}).thickness == 30);
    CHECK(strain_mean(shell, {201, 300}).thickness == 12);
}

TEST_CASE("at the edge of the top the mean is one-sided, off the top there is none", "[solver][recovery]") {
    Piece piece = plain_piece(1000, 600, 30);
    const Shell shell = shell_of(piece);
    const auto dofs = nodal_field(shell, [](Point p) {
        return std::array<double, 5>{1e-6 * p.x * p.x, 0, 0, 0, 0};
    });
    // over 0..15 mm the strain 2e-6 x has the mean 15e-6
    CHECK_THAT(strains_of(shell, strain_mean(shell, {0, 300}), dofs)[0], WithinRel(15e-6, 1e-9));
    const StrainMean off = strain_mean(shell, {-50, 300});
    CHECK(off.region == outside);
    CHECK(off.parts.empty());
    CHECK(stress_of(shell, off, dofs).top == std::array<double, 3>{});
}

TEST_CASE("moments sag positive and do not feel stretch", "[solver][recovery]") {
    const Elastic e = wood;
    for (const double depth : {0.0, 15.0}) {
        const Shell shell = shell_of(plain_piece(1000, 600, 30), false, depth);
        const double k = 1e-5; // sagging: w = k x^2/2 is hollow upward, bx = -k x
        const auto dofs = nodal_field(shell, [&](Point p) {
            return std::array<double, 5>{7e-4 * p.x, 0, k * p.x * p.x / 2, -k * p.x, 0};
        });
        const double D = 30.0 * 30 * 30 / 12 / (1 - 0.4 * 0.4 * 700 / 12000);
        const auto moments = moments_at(shell, dofs, {480, 310});
        CHECK_THAT(moments[0], WithinRel(D * e.E1 * k, rounding));
        CHECK_THAT(moments[1], WithinRel(D * 0.4 * e.E2 * k, rounding));
        CHECK_THAT(moments[2], WithinAbs(0, 1e-7)); // N, of moments of some hundreds
    }
}

TEST_CASE("a movement is read between the nodes as the polynomial it is", "[solver][recovery]") {
    const Shell shell = shell_of(plain_piece(1000, 600, 30));
    const auto w = [](Point p) { return std::pow(p.x / 1000, 4) - std::pow(p.y / 600, 3) * p.x / 1000; };
    const auto dofs = nodal_field(shell, [&](Point p) { return std::array<double, 5>{9, 9, w(p), 9, 9}; });
    for (const Point p : {Point{0, 0}, {123.4, 567.8}, {1000, 600}, {777, 1}})
        CHECK_THAT(movement_at(shell, dofs, p), WithinAbs(w(p), 1e-12));
}

TEST_CASE("the survey leaves no part of the top unread", "[solver][recovery]") {
    Piece piece = plain_piece(1000, 600, 30);
    piece.top.outline = EllipseShape{{0, 1000, 0, 600}};
    piece.recesses.push_back(recess({250, 750, 180, 420}, 18));
    const Shell shell = shell_of(piece, true);
    const std::vector<StrainMean> means = survey_means(shell);
    for (const StrainMean& mean : means) {
        CHECK(mean.region != outside);
        CHECK_FALSE(mean.parts.empty());
    }
    // every whole cell is read, in its middle at least
    for (const Cell& cell : shell.mesh.cells) {
        if (!cell.active || cell.cut) continue;
        const bool read = std::any_of(means.begin(), means.end(), [&](const StrainMean& m) {
            return m.at.x > cell.x0 && m.at.x < cell.x1 && m.at.y > cell.y0 && m.at.y < cell.y1;
        });
        CHECK(read);
    }
}

TEST_CASE("many fields read together are told as each by itself", "[solver][recovery]") {
    Piece piece = plain_piece(1000, 600, 30);
    piece.top.outline = EllipseShape{{0, 1000, 0, 600}};
    piece.recesses.push_back({"well", RectangleShape{{250, 750, 180, 420}, 40}, 18, 0, {}});
    const Shell shell = shell_of(piece, true);
    const std::vector<StrainMean> means = survey_means(shell, 2);
    REQUIRE(means.size() > 50);
    std::vector<std::vector<double>> fields; // more than are read at once
    for (int k = 0; k < 11; ++k)
        fields.push_back(nodal_field(shell, [&](Point p) {
            const double x = p.x / 1000, y = p.y / 600;
            return std::array<double, 5>{1e-3 * std::sin(x + k), 1e-3 * x * y, std::cos(k * x + y),
                                         1e-2 * y * y - k * x, 1e-2 * std::sin(k * y)};
        }));
    std::vector<std::span<const double>> spans(fields.begin(), fields.end());
    const auto together = stresses_of(shell, means, FieldsAbreast(spans));
    REQUIRE(together.size() == fields.size());
    for (size_t k = 0; k < fields.size(); ++k) {
        REQUIRE(together[k].size() == means.size());
        for (size_t m = 0; m < means.size(); ++m) {
            const StressSample one = stress_of(shell, means[m], fields[k]);
            const double scale = std::abs(one.top[0]) + std::abs(one.bottom[0]) + std::abs(one.top[1]) +
                                 std::abs(one.bottom[1]) + 1e-3;
            REQUIRE(together[k][m].at == one.at);
            REQUIRE(together[k][m].thickness == one.thickness);
            for (size_t i = 0; i < 3; ++i) {
                REQUIRE_THAT(together[k][m].top[i], WithinAbs(one.top[i], 1e-11 * scale));
                REQUIRE_THAT(together[k][m].bottom[i], WithinAbs(one.bottom[i], 1e-11 * scale));
            }
            for (size_t i = 0; i < 2; ++i)
                REQUIRE_THAT(together[k][m].shear[i],
                             WithinAbs(one.shear[i],
                                       1e-10 * (std::abs(one.shear[0]) + std::abs(one.shear[1]) + scale)));
        }
    }
    CHECK(stresses_of(shell, means, FieldsAbreast({})).empty());
}

TEST_CASE("a sparse survey is a part of the whole one", "[solver][recovery]") {
    const Shell shell = shell_of(plain_piece(1000, 600, 30));
    const auto all = survey_means(shell), some = survey_means(shell, 4);
    CHECK(some.size() < all.size());
    for (const StrainMean& mean : some)
        CHECK(std::any_of(all.begin(), all.end(), [&](const StrainMean& m) {
            return std::hypot(m.at.x - mean.at.x, m.at.y - mean.at.y) < 1e-9;
        }));
}

TEST_CASE("in the rim beside the wall of a chamfer the wood strains as the strip's section says",
          "[solver][recovery]") {
    Piece piece = plain_piece(1000, 600, 30);
    piece.recesses.push_back(
        {"well",
         PolygonShape{.points = {{250, 180}, {710, 180}, {760, 225}, {760, 380}, {705, 430}, {250, 430}},
                      .corner_radius = 0},
         18,
         3,
         {}});
    const Shell shell = shell_of(piece, true);
    const double e = 1e-4, k = 2e-6; // pulled along x and bent about y, all over
    const auto dofs = nodal_field(shell, [&](Point p) {
        return std::array<double, 5>{e * p.x, 0, -k * p.x * p.x / 2, k * p.x, 0};
    });
    const double side = 2;
    int read = 0;
    for (double x = 640; x < 780; x += 3)
        for (double y = 160; y < 450; y += 2) {
            const SectionRegion place = section_region_at(shell.field, {x, y});
            bool alike = place.wall >= 0;
            for (const double dx : {-side, side})
                for (const double dy : {-side, side})
                    alike = alike && section_region_at(shell.field, {x + dx, y + dy}) == place;
            const Cell& cell = shell.mesh.cells[static_cast<size_t>(cell_at(shell, {x, y}))];
            if (!alike || !cell.cut || x - side < cell.x0 || x + side > cell.x1 || y - side < cell.y0 ||
                y + side > cell.y1)
                continue;
            const Matrix8& wood = shell.sections.at(place).wood;
            const auto told = strains_of(shell, strain_mean(shell, {x, y}, side), dofs);
            double given = 0; // to the give of the wall
            for (size_t r = 0; r < 6; ++r) {
                const double expected = wood[8 * r] * e + wood[8 * r + 3] * k;
                REQUIRE_THAT(told[r], WithinAbs(expected, 1e-10 * (e + 30 * k)));
                given = std::max(given, std::abs(expected - (r == 0 ? e : r == 3 ? k : 0)) / (r < 3 ? e : k));
            }
            REQUIRE(given > 0.01);
            ++read;
        }
    CHECK(read > 20);
}
