// SPDX-License-Identifier: MIT
// Movements are written into the dofs by hand, so that what is read off them is known.
#include "solver/readout/movement.hpp"

#include "solver/model/make_model.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Piece on_pads() {
    Piece piece = invented_top();
    for (const Point& p : {Point{60, 60}, {940, 60}, {500, 540}}) piece.supports.push_back(pad(p));
    return piece;
}

Recess well(Rectangle box) {
    return {.name = "well",
            .shape = RectangleShape{.box = box, .corner_radius = 0},
            .depth = 18,
            .root_radius = 0,
            .lands = {}};
}

SolvedSituation moved(const Model& model, const std::function<double(Point)>& down) {
    SolvedSituation s;
    s.dofs = nodal_field(model.shell, [&](Point p) { return std::array<double, 5>{0, 0, -down(p), 0, 0}; });
    s.point_force.assign(model.points.size(), 0);
    return s;
}

} // namespace

TEST_CASE("the plane through the supports is that of their own give", "[solver][movement]") {
    const Model model = make_unfactored_model(on_pads(), coarse());
    SolvedSituation s = moved(model, [](Point) { return 0.0; });
    const auto give = [](Point p) { return 0.3 + 0.001 * p.x - 0.0005 * p.y; };
    for (std::size_t k = 0; k < model.points.size(); ++k)
        s.point_force[k] = give(model.points[k].at) / model.points[k].compliance;
    const SupportPlane plane = support_plane(model, s);
    for (const Point p : {Point{0, 0}, {1000, 0}, {333, 555}})
        CHECK_THAT(plane.at(p), WithinAbs(give(p), 1e-12)); // a fit of what is a plane
}

TEST_CASE("supports on one line tilt no plane across it", "[solver][movement]") {
    Piece piece = invented_top();
    piece.supports = {
        {.name = "line", .kind = Held{.from = {500, 0}, .to = {500, 600}, .down = true, .tilt = true}}};
    const Model model = make_unfactored_model(piece, coarse());
    const SupportPlane plane = support_plane(model, moved(model, [](Point p) { return p.x; }));
    CHECK(plane.a == 0);
    CHECK(plane.b == 0);
    CHECK(plane.c == 0);
}

TEST_CASE("sag is the greatest movement against the supports' plane, wherever it lies",
          "[solver][movement]") {
    // a hollow whose lowest place is no node; cubes of distances would not be within the elements' reach,
    // squares are
    const Model model = make_unfactored_model(on_pads(), coarse(4));
    const auto hollow = [](Point p) {
        return 1 - std::pow((p.x - 431.7) / 500, 2) - std::pow((p.y - 268.3) / 400, 2);
    };
    const Sag flat = sag_of(model.shell, moved(model, hollow), {});
    CHECK_THAT(flat.value, WithinRel(1, 1e-8)); // a step of 0.01 mm on such a hollow is 1e-9
    CHECK_THAT(flat.at.x, WithinAbs(431.7, 0.05));
    CHECK_THAT(flat.at.y, WithinAbs(268.3, 0.05));
    // the same hollow in a top whose supports have given way aslant
    const SupportPlane plane{.a = 5, .b = 0.01, .c = -0.02};
    const Sag tilted =
        sag_of(model.shell, moved(model, [&](Point p) { return hollow(p) + plane.at(p); }), plane);
    CHECK_THAT(tilted.value, WithinRel(1, 1e-8));
}

TEST_CASE("sag is found at the rim of an oval, between the axes", "[solver][movement]") {
    Piece piece = invented_top();
    piece.top.outline = EllipseShape{{0, 1000, 0, 600}};
    const Model model = make_unfactored_model(piece, coarse());
    // falling away towards (0.8, 0.6): greatest on the ellipse where the normal points there
    const auto slope = [](Point p) { return 0.8 * (p.x - 500) + 0.6 * (p.y - 300); };
    const double greatest = std::hypot(0.8 * 500, 0.6 * 300);
    const Sag sag = sag_of(model.shell, moved(model, slope), {});
    CHECK_THAT(sag.value, WithinRel(greatest, 1e-8)); // a step of 0.01 mm along the rim
    CHECK_THAT(sag.at.x, WithinAbs(500 + 500 * 500 * 0.8 / greatest, 0.2));
}

TEST_CASE("dish is the skin against the straight line between the rim's two middles", "[solver][movement]") {
    Piece piece = on_pads();
    piece.recesses = {well({200, 800, 150, 450})};
    const Model model = make_unfactored_model(piece, coarse(4));
    const DishGrid grid = dish_grid(model.shell);
    // rims reach from 0 to 150 and from 450 to 600: their middles lie at 75 and 525, 450 apart, those of the
    // ends at 100 and 900; the parabolas through them are one deep
    const auto trough = [](Point p) { return 1 - std::pow((p.y - 300) / 225, 2); };
    const auto bowl = [&](Point p) { return trough(p) * (1 - std::pow((p.x - 500) / 400, 2)); };
    const auto dish = dish_of(model.shell, grid, moved(model, bowl));
    REQUIRE(dish);
    CHECK_THAT(dish->value,
               WithinRel(1, 1e-9)); // a mesh line or a node lies in the middle of a symmetrical mesh
    CHECK_THAT(dish->at.y, WithinAbs(300, 0.01));
    CHECK(dish->recess == 0);
    // what the rim does too is no dish
    const auto level =
        dish_of(model.shell, grid, moved(model, [](Point p) { return 3 + 0.01 * p.x - 0.02 * p.y; }));
    CHECK_THAT(level->value, WithinAbs(0, 1e-10));
    // upward it keeps its sign
    CHECK_THAT(dish_of(model.shell, grid, moved(model, [&](Point p) { return -bowl(p); }))->value,
               WithinRel(-1, 1e-9));
    // where the ends of the rim bend as the skin does, or the sides sag as it does, no skin has sunk below
    // its rim
    CHECK_THAT(dish_of(model.shell, grid, moved(model, trough))->value, WithinAbs(0, 1e-9));
    CHECK_THAT(
        dish_of(model.shell, grid, moved(model, [](Point p) { return 1 - std::pow((p.x - 500) / 400, 2); }))
            ->value,
        WithinAbs(0, 1e-9));
}

TEST_CASE("dish is read across the shorter side of a recess, of a square across the grain",
          "[solver][movement]") {
    const auto runs_along_y = [](Rectangle box, double grain) {
        Piece piece = on_pads();
        piece.top.grain_deg = grain;
        piece.recesses = {well(box)};
        const DishGrid grid = dish_grid(make_unfactored_model(piece, coarse()).shell);
        REQUIRE_FALSE(grid.points.empty());
        return grid.places[grid.points.front().rim.low].at.x == grid.places[grid.points.front().here].at.x;
    };
    CHECK(runs_along_y({200, 800, 150, 450}, 0));
    CHECK_FALSE(runs_along_y({400, 600, 100, 500}, 0));
    CHECK(runs_along_y({300, 600, 150, 450}, 0));
    CHECK_FALSE(runs_along_y({300, 600, 150, 450}, 90));
}

TEST_CASE("a recess open at the edge of the top is read against the edge itself", "[solver][movement]") {
    Piece piece = on_pads();
    piece.recesses = {well({200, 800, 0, 450})};
    const DishGrid grid = dish_grid(make_unfactored_model(piece, coarse()).shell);
    for (const DishPoint& point : grid.points) {
        CHECK_THAT(grid.places[point.rim.low].at.y, WithinAbs(0, 1e-4));
        CHECK_THAT(grid.places[point.rim.high].at.y, WithinAbs(525, 1e-4));
    }
}

TEST_CASE("a solid top has no dish", "[solver][movement]") {
    const Model model = make_unfactored_model(on_pads(), coarse());
    CHECK(dish_grid(model.shell).points.empty());
    CHECK_FALSE(dish_of(model.shell, {}, moved(model, [](Point) { return 1.0; })));
}
