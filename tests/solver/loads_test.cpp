// SPDX-License-Identifier: MIT
#include "solver/shell/loads.hpp"

#include "materials/error.hpp"
#include "solver/shell/make_shell.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// Polynomials over whole cells are integrated exactly: only the rounding of some thousand terms is left.
constexpr double rounding = 1e-12;
/// Over cells cut by a curve the substitution that flattens the arc's ends leaves some 1e-10 (mesh_test.cpp
/// measures it).
constexpr double over_curves = 1e-8;

const Elastic wood{
    .E1 = 12000, .E2 = 700, .nu12 = 0.4, .G12 = 800, .G13 = 800, .G23 = 150, .density_kg_m3 = 700};

Shell shell_of(const Piece& piece, int order = 3) {
    const PlaneStiffness plane = plane_stiffness(wood, 0);
    const MeshSize size{.largest = 100, .at_walls = 30, .at_edges = 80, .growth = 0.6};
    return make_shell(plane, thickness_field(piece, plane), {}, {}, {.size = size, .order = order});
}

Piece rectangle() {
    Piece piece;
    piece.top.length = 1000;
    piece.top.width = 600;
    piece.top.thickness = 30;
    piece.top.outline = RectangleShape{.box = {0, 1000, 0, 600}};
    piece.recesses.push_back({.name = "well",
                              .shape = RectangleShape{.box = {150, 850, 120, 480}, .corner_radius = 0},
                              .depth = 18,
                              .root_radius = 0,
                              .lands = {}});
    return piece;
}

Piece oval() {
    Piece piece;
    piece.top.length = 1000;
    piece.top.width = 600;
    piece.top.thickness = 30;
    piece.top.outline = EllipseShape{{0, 1000, 0, 600}};
    return piece;
}

Resultant resultant(const Shell& shell, decltype(Load::kind) kind) {
    const Load load{.name = "load", .duration = Duration::short_term, .kind = std::move(kind)};
    return resultant_of(shell, nodal_forces(shell, load_points(shell, load, "loads[0]")));
}

void check(const Resultant& found, double force, double x, double y, double tolerance = rounding) {
    CHECK_THAT(found.force, WithinRel(force, tolerance));
    CHECK_THAT(found.x_moment, WithinRel(force * x, tolerance));
    CHECK_THAT(found.y_moment, WithinRel(force * y, tolerance));
}

} // namespace

TEST_CASE("a load acts where it rests, and with all of its force", "[solver][loads]") {
    const Shell shell = shell_of(rectangle());
    check(resultant(shell, AreaLoad{.pressure = 0.002, .over = {}}), 0.002 * 600000, 500, 300);
    // the edges of the area lie inside cells
    check(resultant(shell, AreaLoad{.pressure = 0.002, .over = Rectangle{133, 467, 41, 299}}),
          0.002 * 334 * 258, 300, 170);
    check(resultant(shell, PatchLoad{.force = 500, .at = {611, 203}, .size_x = 97, .size_y = 61, .over = {}}),
          500, 611, 203);
    check(resultant(shell, PatchLoad{.force = 500, .at = {611, 203}, .over = {}}), 500, 611, 203);
    check(resultant(shell, PatchLoad{.force = 500, .at = {611, 203}, .size_x = 97, .size_y = 0, .over = {}}),
          500, 611, 203);
    check(resultant(shell, LineLoad{.force = 300, .from = {100, 600}, .to = {900, 600}, .over = {}}), 300,
          500, 600);
    check(resultant(shell, LineLoad{.force = 300, .from = {100, 80}, .to = {913, 555}, .over = {}}), 300,
          506.5, 317.5);
}

TEST_CASE("a patch that hangs over the edge puts all of its force on what is under it", "[solver][loads]") {
    const Shell shell = shell_of(rectangle());
    // 60 of 100 mm lie on the top
    check(
        resultant(shell, PatchLoad{.force = 500, .at = {990, 300}, .size_x = 100, .size_y = 80, .over = {}}),
        500, 970, 300);
    check(resultant(shell, LineLoad{.force = 300, .from = {-200, 300}, .to = {400, 300}, .over = {}}), 300,
          200, 300);
}

TEST_CASE("a clamp presses with the weight that hangs on it and turns the top with its arm",
          "[solver][loads]") {
    const Shell shell = shell_of(rectangle());
    // the loads' moments about the origin are those of the weight where it hangs, wherever that is
    for (const Point hangs_at : {Point{500, -350}, Point{500, 400}, Point{820, -60}, Point{505, 40}})
        check(resultant(shell, ClampLoad{.force = 80,
                                         .at = {500, 40},
                                         .hangs_at = hangs_at,
                                         .above_x = 60,
                                         .above_y = 50,
                                         .below_x = 40,
                                         .below_y = 36}),
              80, hangs_at.x, hangs_at.y);
    // by hand: 80 N, 390 mm out; the triangles' forces act a sixth of 50 and of 36 mm off the middle
    const ClampForces out = clamp_forces({.force = 80,
                                          .at = {500, 40},
                                          .hangs_at = {500, -350},
                                          .above_x = 60,
                                          .above_y = 50,
                                          .below_x = 40,
                                          .below_y = 36});
    CHECK_THAT(out.lower, WithinRel(80 * (390 - 50.0 / 6) / (86.0 / 6), rounding));
    CHECK_THAT(out.upper - out.lower, WithinRel(80, rounding));
    CHECK(out.upper_lean.x == 0);
    CHECK_THAT(out.upper_lean.y, WithinRel(-1, rounding));
    CHECK_THAT(out.lower_lean.y, WithinRel(1, rounding));
    // so near that the upper pad holds it alone: 5 mm of a sixth of 60
    const ClampForces near = clamp_forces({.force = 80,
                                           .at = {500, 40},
                                           .hangs_at = {505, 40},
                                           .above_x = 60,
                                           .above_y = 50,
                                           .below_x = 40,
                                           .below_y = 36});
    CHECK(near.lower == 0);
    CHECK_THAT(near.upper_lean.x, WithinRel(0.5, rounding));
}

TEST_CASE("what a load presses on is known by its part on the top", "[solver][loads]") {
    const Shell shell = shell_of(rectangle());
    const auto pressed = [&](decltype(Load::kind) kind) {
        const Load load{.name = "it", .kind = std::move(kind)};
        return pressed_by(shell, load, load_points(shell, load, "loads[0]"));
    };
    const std::vector<Pressed> patch =
        pressed(PatchLoad{.force = 480, .at = {990, 300}, .size_x = 100, .size_y = 80, .over = {}});
    REQUIRE(patch.size() == 1);
    CHECK_THAT(patch[0].on_top, WithinRel(0.6, rounding));
    CHECK_THAT(patch[0].pressure,
               WithinRel(480 / (60.0 * 80), rounding)); // all of the force on what lies on the top
    CHECK_THAT(patch[0].at.x, WithinRel(970, rounding));
    const std::vector<Pressed> area =
        pressed(AreaLoad{.pressure = 0.01, .over = Rectangle{900, 1100, 0, 100}});
    CHECK_THAT(area[0].on_top, WithinRel(0.5, rounding));
    CHECK_THAT(area[0].force, WithinRel(0.01 * 100 * 100, rounding)); // the rest is left out
    CHECK(area[0].pressure == 0.01);
    CHECK(pressed(PatchLoad{.force = 480, .at = {500, 300}, .over = {}})[0].pressure == 0); // a point
    // a triangle of pressure over 60 mm: over the 30 mm at its high edge the mean is one and a half times
    // that of all
    const std::vector<Pressed> clamp = pressed(ClampLoad{.force = 100,
                                                         .at = {500, 40},
                                                         .hangs_at = {500, -360},
                                                         .above_x = 60,
                                                         .above_y = 60,
                                                         .below_x = 30,
                                                         .below_y = 30});
    REQUIRE(clamp.size() == 2);
    const double lower = 100 * (400 - 10.0) / (10.0 + 5.0);
    CHECK_THAT(clamp[0].pressure, WithinRel(1.5 * (100 + lower) / 3600, rounding));
    CHECK_THAT(clamp[1].pressure, WithinRel(lower / 900, rounding)); // no more than 30 mm deep
    CHECK(clamp[1].by == "its lower pad");
}

TEST_CASE("an area load stays on an oval top", "[solver][loads]") {
    const Shell shell = shell_of(oval());
    check(resultant(shell, AreaLoad{.pressure = 0.002, .over = {}}), 0.002 * std::numbers::pi * 500 * 300,
          500, 300, over_curves);
    // the right half: its middle lies 4 a / (3 pi) from the centre
    check(resultant(shell, AreaLoad{.pressure = 0.002, .over = Rectangle{500, 1000, 0, 600}}),
          0.002 * std::numbers::pi * 500 * 150, 500 + 4 * 500 / (3 * std::numbers::pi), 300, over_curves);
}

TEST_CASE("a load wholly off the top is refused with its place", "[solver][loads]") {
    const Shell shell = shell_of(oval());
    for (const Load& load :
         {Load{.name = "",
         .kind = PatchLoad{.force = 1, .at = {20, 20}, .size_x = 20, .size_y = 20, .over = {}}},
          Load{.name = "", .kind = LineLoad{.force = 1, .from = {0, 0}, .to = {30, 10}, .over = {}}},
          Load{.name = "", .kind = PatchLoad{.force = 1, .at = {2, 2}, .over = {}}},
          Load{.name = "", .kind = AreaLoad{.pressure = 1, .over = Rectangle{0, 30, 0, 20}}}}) {
        try {
            (void)load_points(shell, load, "loads[3]");
            FAIL("no error");
        } catch (const Error& error) {
            CHECK(error.kind() == ErrorKind::input);
            CHECK(error.faults().front().place == "loads[3]");
            CHECK(in_own_units(error.faults().front().what) == "the load lies wholly off the top");
        }
    }
}

TEST_CASE("weight is density times the volume left, and acts at its centre", "[solver][loads]") {
    Piece piece = rectangle();
    // an unsymmetrical recess, so that the centre of the mass moves
    piece.recesses[0].shape = RectangleShape{.box = {150, 550, 120, 480}, .corner_radius = 0};
    for (const int order : {3, 4}) {
        const Shell shell = shell_of(piece, order);
        const double solid = 1000.0 * 600 * 30, cut = 400.0 * 360 * 18, volume = solid - cut;
        const double x = (solid * 500 - cut * 350) / volume;
        check(resultant_of(shell, weight_forces(shell)), 700e-9 * volume * standard_gravity, x, 300);
        CHECK_THAT(volume_of(shell.field, shell.mesh), WithinRel(volume, rounding));
    }
}

TEST_CASE("the volume of an oval with rounded lands is that of the drawing", "[solver][loads]") {
    Piece piece = oval();
    piece.recesses.push_back(
        {.name = "well",
         .shape = RectangleShape{.box = {200, 800, 150, 450}, .corner_radius = 25},
         .depth = 20,
         .root_radius = 0,
         .lands = {
             {.name = "land", .shape = RectangleShape{.box = {450, 550, 250, 350}, .corner_radius = 10}}}});
    const Shell shell = shell_of(piece);
    constexpr double pi = std::numbers::pi;
    const double recess = 600.0 * 300 - (4 - pi) * 25 * 25, land = 100.0 * 100 - (4 - pi) * 100;
    CHECK_THAT(volume_of(shell.field, shell.mesh),
               WithinRel(30 * pi * 500 * 300 - 20 * (recess - land), over_curves));
}

TEST_CASE("no point of a load pulls where the load presses", "[solver][loads]") {
    // nodal forces of a patch may well be negative here and there; the load itself is not
    const Shell shell = shell_of(oval());
    const Load load{.name = "vase", .kind = AreaLoad{.pressure = 0.001, .over = Rectangle{30, 333, 11, 400}}};
    for (const LoadPoint& point : load_points(shell, load, "")) CHECK(point.force > 0);
}
