// SPDX-License-Identifier: MIT
#include "solver/mesh/thickness_field.hpp"

#include "materials/error.hpp"

#include <Eigen/LU>
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const Elastic wood{
    .E1 = 12000, .E2 = 700, .nu12 = 0.4, .G12 = 800, .G13 = 800, .G23 = 150, .density_kg_m3 = {}};
const PlaneStiffness plane = plane_stiffness(wood, 0);

Piece top() {
    Piece piece;
    piece.top.length = 1200;
    piece.top.width = 700;
    piece.top.thickness = 36;
    piece.top.outline = RectangleShape{.box = {0, 1200, 0, 700}};
    return piece;
}

Recess recess(Rectangle box, double depth, double radius = 0) {
    return {.name = "well",
            .shape = RectangleShape{.box = box, .corner_radius = radius},
            .depth = depth,
            .root_radius = 0,
            .lands = {}};
}

double thickness_at(const ThicknessField& field, Point p) { return thickness_of(field, region_at(field, p)); }

} // namespace

TEST_CASE("each place is as thick as the drawing says", "[solver][thickness]") {
    Piece piece = top();
    piece.recesses = {recess({100, 600, 100, 600}, 20), recess({700, 1100, 100, 600}, 26)};
    piece.recesses[0].lands.push_back({.name = "pad", .shape = RectangleShape{.box = {300, 400, 300, 400}}});
    piece.recesses[0].lands.push_back(
        {.name = "wedge", .shape = PolygonShape{.points = {{500, 200}, {560, 200}, {500, 290}}}});
    const ThicknessField field = thickness_field(piece, plane);
    CHECK(thickness_at(field, {50, 350}) == 36);
    CHECK(thickness_at(field, {200, 350}) == 16);
    CHECK(thickness_at(field, {350, 350}) == 36);
    CHECK(thickness_at(field, {510, 210}) == 36);
    CHECK(thickness_at(field, {555, 285}) == 16);
    CHECK(thickness_at(field, {650, 350}) == 36);
    CHECK(thickness_at(field, {900, 350}) == 10);
    CHECK(thickness_at(field, {1250, 350}) == 0);
    CHECK(region_at(field, {1250, 350}) == outside);
    CHECK(region_at(field, {900, 350}) == 2);
}

TEST_CASE("a rim follows every kind of outline", "[solver][thickness]") {
    Piece piece = top();
    piece.recesses = {{.name = "well",
                       .shape = RimShape{.rim = 90, .corner_radius = 8},
                       .depth = 20,
                       .root_radius = 0,
                       .lands = {}}};
    const auto check = [&](Point rim, Point skin) {
        const ThicknessField field = thickness_field(piece, plane);
        CHECK(thickness_at(field, rim) == 36);
        CHECK(thickness_at(field, skin) == 16);
    };
    check({600, 89.9}, {600, 90.1});
    piece.top.outline = EllipseShape{{0, 1200, 0, 700}};
    check({600, 89.9}, {600, 90.1});
    check({1110.1, 350}, {1109.9, 350});
    piece.top.outline =
        PolygonShape{.points = {{0, 0}, {1200, 0}, {1000, 700}, {100, 700}}, .corner_radius = 0};
    check({600, 610.1}, {600, 609.9});
}

TEST_CASE("a rim that leaves nothing names its place in the file", "[solver][thickness]") {
    Piece piece = top();
    piece.recesses = {recess({100, 300, 100, 300}, 10),
                      {.name = "well",
                       .shape = RimShape{.rim = 360, .corner_radius = 0},
                       .depth = 20,
                       .root_radius = 0,
                       .lands = {}}};
    try {
        (void)thickness_field(piece, plane);
        FAIL("no error");
    } catch (const Error& error) {
        CHECK(error.kind() == ErrorKind::input);
        CHECK(error.faults().front() ==
              Fault{"recesses[1].rim", "the rim leaves nothing to hollow", "give a narrower rim"});
    }
}

TEST_CASE("the strip beside a wall lies on the thick side", "[solver][thickness]") {
    Piece piece = top();
    piece.recesses = {recess({200, 1000, 150, 550}, 20)};
    piece.recesses[0].lands.push_back({.name = "land", .shape = RectangleShape{.box = {500, 700, 250, 450}}});
    const ThicknessField field = thickness_field(piece, plane);
    CHECK(section_region_at(field, {199, 350}).wall >= 0); // rim beside the recess
    CHECK(section_region_at(field, {201, 350}).wall < 0);  // skin
    CHECK(section_region_at(field, {499, 350}).wall < 0);  // skin beside the land
    CHECK(section_region_at(field, {501, 350}).wall >= 0); // land
    CHECK(section_region_at(field, {600, 350}).wall < 0);  // middle of the land
    CHECK(section_region_at(field, {20, 350}).wall < 0);   // far from every wall
}

TEST_CASE("between recesses of different depth the strip lies on the thicker side", "[solver][thickness]") {
    // a slipping depth stop: two abutting recesses, one 3 mm deeper
    Piece piece = top();
    for (const bool left_is_deeper : {true, false}) {
        piece.recesses = {recess({200, 600, 150, 550}, left_is_deeper ? 23 : 20),
                          recess({600, 1000, 150, 550}, left_is_deeper ? 20 : 23)};
        const ThicknessField field = thickness_field(piece, plane);
        const SectionRegion left = section_region_at(field, {599, 350}),
                            right = section_region_at(field, {601, 350});
        INFO(left_is_deeper);
        CHECK((left.wall >= 0) == !left_is_deeper);
        CHECK((right.wall >= 0) == left_is_deeper);
        const Wall& wall = field.walls[static_cast<std::size_t>(left_is_deeper ? right.wall : left.wall)];
        CHECK(wall.skin == 13);
    }
}

TEST_CASE("recesses of one depth that abut have no wall between them", "[solver][thickness]") {
    Piece piece = top();
    piece.recesses = {recess({200, 600, 150, 550}, 20), recess({600, 1000, 150, 550}, 20)};
    const ThicknessField field = thickness_field(piece, plane);
    CHECK(section_region_at(field, {599, 350}).wall < 0);
    CHECK(section_region_at(field, {601, 350}).wall < 0);
    CHECK(thickness_at(field, {599.9, 350}) == thickness_at(field, {600.1, 350}));
}

TEST_CASE("without softened walls there are none", "[solver][thickness]") {
    Piece piece = top();
    piece.recesses = {recess({200, 1000, 150, 550}, 20, 30)};
    const ThicknessField field = thickness_field(piece, plane, false);
    CHECK(field.walls.empty());
    CHECK(section_region_at(field, {199, 350}).wall < 0);
    CHECK_FALSE(thickness_field(piece, plane).walls.empty());
}

TEST_CASE("every line where the section jumps is among the cuts", "[solver][thickness]") {
    // walked along a few lines: where two neighbouring places differ, a cut lies between them. Where the
    // zones of two walls overlap, in the hollow of a corner, each takes what is nearer to it; that border is
    // none of the cuts.
    Piece piece = top();
    piece.top.outline = EllipseShape{{0, 1200, 0, 700}};
    piece.recesses = {recess({300, 900, 200, 500}, 20, 35)};
    piece.recesses[0].lands.push_back(
        {.name = "land", .shape = PolygonShape{.points = {{500, 280}, {700, 300}, {610, 430}}}});
    const ThicknessField field = thickness_field(piece, plane);
    int jumps = 0;
    for (double y = 3.21; y < 700; y += 23.7) {
        SectionRegion last = section_region_at(field, {-1, y});
        for (double x = 0; x < 1202; x += 0.5) {
            const Point here{x, y};
            const SectionRegion now = section_region_at(field, here);
            if (now.region != last.region || (now.wall < 0) != (last.wall < 0)) {
                ++jumps;
                double nearest = 1e9;
                for (const EdgePiece& cut : field.cuts)
                    nearest = std::min(nearest, nearest_on(cut, here).distance);
                INFO("x " << x << ", y " << y);
                CHECK(nearest < 0.51);
            }
            last = now;
        }
    }
    CHECK(jumps > 100);
}

TEST_CASE("beside a wall the rim is softer across it and nowhere else", "[solver][thickness]") {
    // compliance of the zone = compliance of the rim + something across the wall alone (stretch, bending,
    // transverse shear) and, for shear in the plane and twist, along it; mass and the way along the wall are
    // the rim's
    using Row8 = Eigen::Matrix<double, 8, 8, Eigen::RowMajor>;
    const auto whole = [](const Section& s) {
        Row8 C;
        for (int i = 0; i < 8; ++i)
            for (int j = 0; j < 8; ++j) {
                const auto a = static_cast<std::size_t>(std::min(i, j)),
                           b = static_cast<std::size_t>(std::max(i, j));
                C(i, j) = b < 6 ? s.C[6 * a + b] : a >= 6 ? s.S[2 * (a - 6) + b - 6] : s.cross[2 * a + b - 6];
            }
        return C;
    };
    for (const double grain : {0.0, 35.0}) {
        const PlaneStiffness turned = plane_stiffness(wood, grain);
        Piece piece = top();
        piece.recesses = {recess({200, 1000, 150, 550}, 22)};
        const ThicknessField field = thickness_field(piece, turned);
        for (const auto& [place, across] : {std::pair{Point{199, 350}, 0}, {Point{600, 551}, 1}}) {
            const SectionRegion beside = section_region_at(field, place);
            REQUIRE(beside.wall >= 0);
            const Section zone = section_at(field, turned, beside, 0), rim = plain_section(turned, 36, 0);
            const Row8 C = whole(zone), full = whole(rim),
                       wood_strain = Eigen::Map<const Row8>(zone.wood.data());
            const Row8 extra = C.inverse() - full.inverse();
            const double scale = extra.cwiseAbs().maxCoeff();
            const std::array<int, 3> opens{across, 3 + across, 6 + across};
            Eigen::Matrix2d added;
            for (int i = 0; i < 8; ++i)
                for (int j = 0; j < 8; ++j) {
                    const bool is_across = std::count(opens.begin(), opens.end(), i) &&
                                           std::count(opens.begin(), opens.end(), j);
                    const bool is_slip = (i == 2 || i == 5) && (j == 2 || j == 5);
                    INFO("grain " << grain << ", entry " << i << ", " << j);
                    if (is_across && i < 6 && j < 6)
                        added(i / 3, j / 3) = extra(i, j);
                    else if (is_slip)
                        CHECK((i != j || extra(i, j) > 0));
                    else if (!is_across)
                        CHECK(std::abs(extra(i, j)) < 1e-8 * scale); // inverses of a matrix of condition 1e7
                }
            const double mean = added.trace() / 2,
                         lower = mean - std::sqrt(std::max(0.0, mean * mean - added.determinant()));
            CHECK(lower > -1e-8 * scale);
            CHECK(added.trace() > 0);
            CHECK(zone.mass == rim.mass);
            CHECK((full * wood_strain - C).cwiseAbs().maxCoeff() <
                  1e-10 * C.cwiseAbs().maxCoeff()); // the wood carries all the force
        }
    }
}
