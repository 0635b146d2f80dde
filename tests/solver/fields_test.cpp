// SPDX-License-Identifier: MIT
#include "solver/readout/fields.hpp"

#include "solver/model/make_model.hpp"
#include "solver/readout/movement.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

double area_of(const Fields& fields) {
    double area = 0;
    for (const auto& cell : fields.cells)
        for (std::size_t k = 0; k < 4; ++k) {
            const Point a = fields.points[static_cast<std::size_t>(cell[k])],
                        b = fields.points[static_cast<std::size_t>(cell[(k + 1) % 4])];
            area += (a.x * b.y - b.x * a.y) / 2; // counter-clockwise +
        }
    return area;
}

Piece table() {
    Piece piece = invented_top();
    for (const Point& p : {Point{60, 60}, {940, 60}, {500, 540}}) piece.supports.push_back(pad(p));
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {150, 850, 120, 480}, .corner_radius = 0},
                       .depth = 15,
                       .root_radius = 0,
                       .lands = {}}};
    piece.loads = {spread(0.0004)};
    return piece;
}

} // namespace

TEST_CASE("fields cover the top once, every value at every point", "[solver][fields]") {
    const Piece piece = table();
    const Model model = make_model(piece, coarse());
    const auto solved = solve_situations(piece, model);
    const Fields fields = sample_fields(model, solved);
    CHECK_THAT(area_of(fields),
               WithinRel(600000, 1e-5)); // each cell is drawn a millionth within its own borders
    REQUIRE(fields.point_values.size() == 1 + 5 * solved.size());
    CHECK(fields.point_values[0].name == "thickness_mm");
    CHECK(fields.point_values[1].name == "movement_mm, spread");
    CHECK(fields.point_values[2].name == "stress_top_along_MPa, spread");
    for (const Fields::Named& named : fields.point_values) {
        REQUIRE(named.values.size() == fields.points.size());
        for (const double v : named.values) REQUIRE(std::isfinite(v));
    }
}

TEST_CASE("the fields hold the drawing's thickness and the sag's place", "[solver][fields]") {
    const Piece piece = table();
    const Model model = make_model(piece, coarse());
    const auto solved = solve_situations(piece, model);
    const Fields fields = sample_fields(model, solved);
    for (std::size_t k = 0; k < fields.points.size(); ++k) {
        const Point p = fields.points[k];
        const bool in_well = p.x > 150 && p.x < 850 && p.y > 120 && p.y < 480;
        REQUIRE(fields.point_values[0].values[k] == (in_well ? 15 : 30));
    }
    const Sag sag = sag_of(model.shell, solved[0], support_plane(model, solved[0]));
    const auto& movement = fields.point_values[1].values;
    const double greatest = *std::max_element(movement.begin(), movement.end());
    CHECK(greatest <= sag.value * (1 + 1e-9)); // nothing drawn is deeper than what is reported
    CHECK(greatest > 0.97 * sag.value);        // and some point lies near it
}

TEST_CASE("nothing is drawn off an oval top", "[solver][fields]") {
    Piece piece = table();
    piece.top.outline = EllipseShape{{0, 1000, 0, 600}};
    piece.recesses.clear();
    piece.supports = {pad({200, 200}), pad({800, 200}), pad({500, 500})};
    const Model model = make_model(piece, coarse());
    const Fields fields = sample_fields(model, solve_situations(piece, model));
    for (const auto& cell : fields.cells)
        for (const int corner : cell) {
            const Point p = fields.points[static_cast<std::size_t>(corner)];
            REQUIRE(std::pow((p.x - 500) / 500, 2) + std::pow((p.y - 300) / 300, 2) <
                    1 + 1e-5); // a millionth of a cell
        }
    const double oval = std::acos(-1.0) * 500 * 300;
    CHECK(area_of(fields) < oval);
    CHECK(area_of(fields) > 0.85 * oval); // what cells on the rim leave out
}
