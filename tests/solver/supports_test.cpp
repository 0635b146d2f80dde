// SPDX-License-Identifier: MIT
#include "solver/interface/supports.hpp"

#include "solver/interface/tile_forces.hpp"
#include "solver/model/make_model.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numeric>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double rounding = 1e-12; ///< sums of some dozens of terms
constexpr double E3 = 900;         ///< MPa through the thickness

SupportPlan plan_of(const Piece& piece) {
    const PlaneStiffness plane = plane_stiffness(*piece.top.elastic, piece.top.grain_deg);
    return plan_supports(piece, thickness_field(piece, plane), plane, E3);
}

Piece on(std::vector<Support> supports) {
    Piece piece = invented_top();
    piece.supports = std::move(supports);
    return piece;
}

double stiffness_of(const std::vector<ContactPoint>& points) {
    double sum = 0;
    for (const ContactPoint& point : points) sum += 1 / point.compliance;
    return sum;
}
double area_of(const std::vector<ContactPoint>& points) {
    double sum = 0;
    for (const ContactPoint& point : points) sum += point.area;
    return sum;
}
Point middle_of(const std::vector<ContactPoint>& points) {
    Point sum{};
    for (const ContactPoint& point : points) {
        sum.x += point.area * point.at.x;
        sum.y += point.area * point.at.y;
    }
    return {sum.x / area_of(points), sum.y / area_of(points)};
}

} // namespace

TEST_CASE("a pad's tiles cover the pad and share its bed", "[solver][supports]") {
    const SupportPlan plan = plan_of(
        on({{.name = "pad", .kind = Pad{.at = {200, 150}, .size_x = 80, .size_y = 50, .stiffness = {}}}}));
    CHECK_THAT(area_of(plan.points), WithinRel(80.0 * 50, rounding));
    CHECK_THAT(middle_of(plan.points).x, WithinRel(200, rounding));
    CHECK_THAT(middle_of(plan.points).y, WithinRel(150, rounding));
    CHECK_THAT(stiffness_of(plan.points),
               WithinRel(E3 / 30 * 80 * 50, rounding)); // an elastic layer 30 mm thick
    CHECK(plan.areas == std::vector<double>{4000});
    CHECK(plan.extents[0] == Rectangle{160, 240, 125, 175});
    CHECK(plan.all_one_sided);
    CHECK(plan.assumptions.size() == 1);
}

TEST_CASE("under a skin the bed is the skin's, and a stated one is taken as stated", "[solver][supports]") {
    Piece piece = on({pad({500, 300}, 40)});
    piece.recesses.push_back({.name = "well",
                              .shape = RectangleShape{.box = {200, 800, 150, 450}, .corner_radius = 0},
                              .depth = 18,
                              .root_radius = 0,
                              .lands = {}});
    CHECK_THAT(stiffness_of(plan_of(piece).points), WithinRel(E3 / 12 * 1600, rounding));
    piece.supports = {pad({500, 300}, 40, false, 7.5)};
    const SupportPlan stated = plan_of(piece);
    CHECK_THAT(stiffness_of(stated.points), WithinRel(7.5 * 1600, rounding));
    CHECK(stated.assumptions.empty());
}

TEST_CASE("a slanting bearer lies along its line", "[solver][supports]") {
    const SupportPlan plan = plan_of(
        on({{.name = "bearer",
             .kind = Bearer{
                 .from = {200, 100}, .to = {500, 500}, .width = 30, .hold_down = true, .stiffness = {}}}}));
    CHECK_THAT(area_of(plan.points), WithinRel(500.0 * 30, rounding));
    CHECK_THAT(middle_of(plan.points).x, WithinRel(350, rounding));
    CHECK_FALSE(plan.all_one_sided);
    for (const ContactPoint& point : plan.points) {
        CHECK(point.two_sided);
        CHECK_THAT(point.axis.x, WithinRel(0.6, rounding));
        const double off_line = (point.at.x - 200) * -0.8 + (point.at.y - 100) * 0.6;
        CHECK(std::abs(off_line) < 15);
    }
}

TEST_CASE("a knife edge that holds down is a held line, one that presses a row of points",
          "[solver][supports]") {
    const SupportPlan plan =
        plan_of(on({edge({100, 0}, {100, 600}, true), edge({900, 0}, {900, 600}, false)}));
    REQUIRE(plan.held.size() == 1);
    CHECK(plan.held[0].down);
    CHECK_FALSE(plan.held[0].tilt);
    CHECK(plan.held[0].support == 0);
    CHECK(plan.points.empty());
    // both are mesh lines
    for (const double x : {100.0, 900.0})
        CHECK(std::count(plan.wishes.lines_x.begin(), plan.wishes.lines_x.end(), x) > 0);
}

TEST_CASE("the points of a knife edge share its length, on mesh lines and aslant", "[solver][supports]") {
    for (const auto& [from, to, length] : {std::tuple{Point{900, 50}, Point{900, 550}, 500.0},
                                           {Point{100, 300}, Point{700, 300}, 600.0},
                                           {Point{100, 100}, Point{400, 500}, 500.0}}) {
        const Piece piece = on({edge(from, to)});
        const Model model = make_unfactored_model(piece, coarse());
        const double width = from.x != to.x && from.y != to.y ? 2 : 1; // aslant: tiles 2 mm wide, end to end
        CHECK_THAT(area_of(model.points), WithinRel(width * length, rounding));
        CHECK_THAT(middle_of(model.points).x, WithinRel((from.x + to.x) / 2, rounding));
        CHECK_THAT(middle_of(model.points).y, WithinRel((from.y + to.y) / 2, rounding));
        for (const ContactPoint& point : model.points) CHECK(point.area > 0);
    }
}

TEST_CASE("each held line holds what it says at the level it says", "[solver][supports]") {
    const SupportPlan plan = plan_of(on(
        {{.name = "a",
          .kind = Held{.from = {0, 0}, .to = {0, 600}, .down = true, .across = true, .level = Level::bottom}},
         {.name = "b",
          .kind =
              Held{.from = {1000, 0}, .to = {1000, 600}, .tilt = true, .along = true, .level = Level::top}},
         {.name = "c", .kind = BuiltIn{.from = {0, 0}, .to = {1000, 0}}}}));
    REQUIRE(plan.held.size() == 3);
    CHECK((plan.held[0].down && plan.held[0].across && !plan.held[0].tilt && !plan.held[0].twist &&
           !plan.held[0].along));
    CHECK(plan.held[0].level == 1);
    CHECK((plan.held[1].tilt && plan.held[1].along && !plan.held[1].down));
    CHECK(plan.held[1].level == 0);
    CHECK((plan.held[2].down && plan.held[2].tilt && plan.held[2].twist && plan.held[2].along &&
           plan.held[2].across));
    CHECK(plan.held[2].support == 2);
}

TEST_CASE("a tile's force is one, and acts in its middle", "[solver][supports]") {
    // tiles across mesh lines, aslant, and partly over the rim of an oval
    const Model model = make_unfactored_model(
        on({pad({310, 290}, 90),
            {.name = "slant",
             .kind = Bearer{.from = {600, 100}, .to = {800, 400}, .width = 40, .stiffness = {}}}}),
        coarse());
    SparseColumns columns;
    for (std::size_t k = 0; k < model.points.size(); ++k) {
        append_tile_force(model.shell, model.points[k], columns);
        double force = 0, x = 0, y = 0;
        for (int i = columns.start[k]; i < columns.start[k + 1]; ++i) {
            const int dof = columns.dof[static_cast<std::size_t>(i)];
            CHECK(dof % dofs_per_node == 2);
            const Point p = model.shell.node_point(dof / dofs_per_node);
            const double f = columns.value[static_cast<std::size_t>(i)];
            force += f;
            x += f * p.x;
            y += f * p.y;
        }
        CHECK_THAT(force, WithinRel(1, 1e-11));
        CHECK_THAT(x, WithinRel(model.points[k].at.x, 1e-11));
        CHECK_THAT(y, WithinRel(model.points[k].at.y, 1e-11));
    }
}

TEST_CASE("hundreds of pads are cut into few tiles that cover them all the same, and it is said",
          "[solver][supports]") {
    const auto pads = [](int n) {
        std::vector<Support> supports;
        for (int i = 0; i < n; ++i)
            supports.push_back({.name = "pad",
                                .kind = Pad{.at = {40.0 + i % 40 * 22, 40.0 + i / 40 * 22},
                                            .size_x = 16,
                                            .size_y = 10,
                                            .stiffness = {}}});
        return plan_of(on(std::move(supports)));
    };
    const auto [count, tiles_each] = GENERATE(table<int, int>({{250, 4}, {800, 1}}));
    const SupportPlan few = pads(4), many = pads(count);
    CHECK(few.warnings.empty());
    CHECK(many.points.size() == static_cast<size_t>(count * tiles_each));
    CHECK_THAT(area_of(many.points), WithinRel(16.0 * 10 * count, rounding));
    CHECK_THAT(stiffness_of(many.points),
               WithinRel(E3 / invented_top().top.thickness * 16 * 10 * count, rounding));
    if (tiles_each == 1) {
        REQUIRE_FALSE(many.warnings.empty());
        CHECK_THAT(in_own_units(many.warnings.back()), Catch::Matchers::Contains("so many supports"));
    }
}
