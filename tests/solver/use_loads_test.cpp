// SPDX-License-Identifier: MIT
#include "solver/piece/use_loads.hpp"

#include "checks_for_tests.hpp"
#include "materials/error.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/mesh/thickness_field.hpp"
#include "solver/piece/sense.hpp"
#include "solver/section/section_stiffness.hpp"
#include "solver/situations/travelling_load.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("a use adds its loads after the piece's own, in N and MPa", "[solver]") {
    Piece piece = oak_top();
    piece.loads.push_back({"bowl", Duration::medium, PatchLoad{50, {500, 300}, 100, 100, false, {}}});
    piece.use = "dining table";
    const Piece used = with_use(piece);
    REQUIRE(used.loads.size() == 5);
    CHECK(used.loads[0].name == "bowl");
    CHECK_THAT(std::get<AreaLoad>(used.loads[1].kind).pressure, WithinRel(0.25e-3)); // 0.25 kPa
    CHECK(std::get<PatchLoad>(used.loads[2].kind).force == 300);
    CHECK(used.loads[2].judged_for == LoadFor::everyday);
    CHECK(used.loads[2].duration == Duration::short_term);
    CHECK(std::get<PatchLoad>(used.loads[3].kind).force == 1000);
    CHECK(used.loads[3].judged_for == LoadFor::strength);
    CHECK(used.loads[3].duration == Duration::minutes);
    CHECK(std::get<PatchLoad>(used.loads[4].kind).force == 400);
    CHECK(used.loads[4].judged_for == LoadFor::stability);
    CHECK(used.use.empty());
    CHECK(with_use(used).loads.size() == 5); // a second time adds nothing
}

TEST_CASE("a use sets only those limits that the piece does not state", "[solver]") {
    Piece piece = oak_top();
    piece.use = "shelf";
    piece.limits.sag = {.is_share_of_span = false, .length = 1.5, .is_stated = true};
    const Piece used = with_use(piece);
    CHECK(used.limits.sag.length == 1.5);
    CHECK(used.limits.sag.source.empty());
    CHECK(used.limits.sag_years.divisor == 384);
    CHECK(in_own_units(used.limits.sag_years.source).find("use \"shelf\"") == 0);
}

TEST_CASE("a use sets limits of flatness where the piece states none, and lets a shelf be", "[solver]") {
    Piece piece = oak_top();
    piece.use = "workbench";
    CHECK(with_use(piece).limits.flatness == 0.5);
    CHECK(with_use(piece).limits.flatness_years == 1.0);
    CHECK(in_own_units(with_use(piece).limits.flatness_source).find("use \"workbench\"") == 0);
    piece.limits.flatness = 0.2;
    CHECK(with_use(piece).limits.flatness == 0.2);
    CHECK_FALSE(with_use(piece).limits.flatness_years); // twice what is stated, then
    CHECK(with_use(piece).limits.flatness_source.empty());
    piece.limits.flatness.reset();
    piece.use = "shelf";
    CHECK(with_use(piece).limits.need_not_be_flat);
    CHECK_FALSE(with_use(piece).limits.flatness);
}

TEST_CASE("the bench full of people loads its longer side, whichever that is", "[solver]") {
    Piece piece = oak_top();
    piece.use = "bench";
    const auto line = std::get<LineLoad>(with_use(piece).loads[0].kind);
    CHECK_THAT(line.force, WithinRel(1391.0)); // 1391 N/m on 1 m: 800 N / 0.575 m
    CHECK(line.from == Point{0, 300});
    CHECK(line.to == Point{1000, 300});
    std::swap(piece.top.length, piece.top.width);
    const auto turned = std::get<LineLoad>(with_use(piece).loads[0].kind);
    CHECK(turned.from == Point{300, 0});
    CHECK(turned.to == Point{300, 1000});
}

// A line along the middle of an L lies in the air for most of its length: all would press on one wing, none on the long one.
TEST_CASE(
    "round a corner people sit along both wings of a bench, and what stays on a desk lies on the long wing",
    "[solver]") {
    Piece piece = oak_top();
    piece.use = "bench";
    piece.top.length = 1800;
    piece.top.width = 1600;
    constexpr double d = 450; // of the wings
    piece.top.outline = PolygonShape{.points = {{0, 0}, {1800, 0}, {1800, d}, {d, d}, {d, 1600}, {0, 1600}},
                                     .corner_radius = 0};
    const auto all_over = std::get<AreaLoad>(with_use(piece).loads[0].kind);
    CHECK_FALSE(all_over.over);
    // 1391 N on every metre of both wings, whose middle is 1800 + 1600 - 450 long
    const double area = d * (1800 + 1600 - d);
    CHECK_THAT(all_over.pressure * area, WithinRel(1.391 * (1800 + 1600 - d)));
    // what stays in the middle of another top stands here in the middle of the long wing
    piece.use = "desk";
    int n_staying = 0;
    for (const Load& load : with_use(piece).loads)
        if (const auto* patch = std::get_if<PatchLoad>(&load.kind); patch && !patch->travels) {
            CHECK_THAT(patch->at.x, WithinRel(900.0));
            CHECK_THAT(patch->at.y, WithinRel(d / 2, 0.02));
            ++n_staying;
        }
    CHECK(n_staying > 0);
    piece.use = "bench";
    // a slab's middle stays on it
    piece.top.outline =
        PolygonShape{.points = {{0, 20}, {1800, 0}, {1780, 1600}, {0, 1580}}, .corner_radius = 0};
    CHECK(std::holds_alternative<LineLoad>(with_use(piece).loads[0].kind));
}

namespace {

/// Where wood is; how stiff it is does not matter here.
ThicknessField plan_of(const Piece& piece) {
    return thickness_field(
        piece, plane_stiffness({.E1 = 12000, .E2 = 800, .nu12 = 0.4, .G12 = 800, .G13 = 800, .G23 = 100}, 0));
}

/// The stability load of a dining table, and the distances of the place nearest to the edge in each direction
/// at which it may lie.
std::vector<double> nearest_to_the_edge(const Piece& piece, const std::vector<Point>& towards) {
    const Load load = with_use(piece).loads.back();
    REQUIRE(load.judged_for == LoadFor::stability);
    const ThicknessField field = plan_of(piece);
    const Rectangle range = roaming_range(load, piece.top);
    std::vector<double> inside;
    for (const Point edge : towards) { // from the edge towards the middle, until it lies there
        const Point middle{piece.top.length / 2, piece.top.width / 2};
        const double far = std::hypot(middle.x - edge.x, middle.y - edge.y);
        double least = far;
        for (double s = 0; s < far; s += 0.1) {
            const Point at{edge.x + (middle.x - edge.x) * s / far, edge.y + (middle.y - edge.y) * s / far};
            const bool in_range = at.x >= range.x0 - 1e-9 && at.x <= range.x1 + 1e-9 &&
                                  at.y >= range.y0 - 1e-9 && at.y <= range.y1 + 1e-9;
            if (in_range && lies_on(field, load, at)) {
                least = s;
                break;
            }
        }
        inside.push_back(least);
    }
    return inside;
}

} // namespace

TEST_CASE("the stability load of a use comes within 50 mm of the edge of a rectangle, in its corners too",
          "[solver]") {
    Piece piece = oak_top();
    piece.top.outline = RectangleShape{{0, 1000, 0, 600}, 0};
    piece.use = "dining";
    const Rectangle range = roaming_range(with_use(piece).loads.back(), piece.top);
    CHECK_THAT(range.x0, WithinRel(50.0));
    CHECK_THAT(range.x1, WithinRel(950.0));
    CHECK_THAT(range.y0, WithinRel(50.0));
    CHECK_THAT(range.y1, WithinRel(550.0));
    const std::vector<double> inside =
        nearest_to_the_edge(piece, {{500, 0}, {500, 600}, {0, 300}, {1000, 300}});
    for (const double distance : inside) CHECK_THAT(distance, WithinAbs(50, 0.2)); // found in steps of 0.1 mm
    CHECK(lies_on(plan_of(piece), with_use(piece).loads.back(), {50, 50}));
    CHECK(lies_on(plan_of(piece), with_use(piece).loads.back(), {950, 550}));
}

TEST_CASE(
    "the stability load of a use comes within 50 mm of the edge of a round top, whichever way one looks",
    "[solver]") {
    Piece piece = oak_top();
    piece.top.length = piece.top.width = 1200;
    piece.top.outline = EllipseShape{{0, 1200, 0, 1200}};
    piece.use = "dining";
    std::vector<Point> rim;
    for (const double angle : {0.0, 0.3, 0.7854, 1.2, 1.5708, 2.5, 4.0})
        rim.push_back({600 + 600 * std::cos(angle), 600 + 600 * std::sin(angle)});
    // radius 50.2 mm less 0.5; of 32 rays one looks at most pi/32 past the nearest edge; steps of 0.1 mm
    for (const double distance : nearest_to_the_edge(piece, rim)) CHECK_THAT(distance, WithinAbs(49.85, 0.5));
}

TEST_CASE("on the ends of an oval the stability load stands 50 mm inside, and on a narrow top in its middle",
          "[solver]") {
    Piece oval = oak_top();
    oval.top.length = 1800;
    oval.top.width = 1000;
    oval.top.outline = EllipseShape{{0, 1800, 0, 1000}};
    oval.use = "dining";
    // where the oval is sharpest its radius is 500^2 / 900 = 278 mm, more than the disc's: the disc touches
    // in one point
    for (const double distance : nearest_to_the_edge(oval, {{0, 500}, {1800, 500}, {900, 0}, {900, 1000}}))
        CHECK_THAT(distance, WithinAbs(49.85, 0.5));
    Piece narrow = oak_top();
    narrow.top.width = 80;
    narrow.top.outline = RectangleShape{{0, 1000, 0, 80}, 0};
    narrow.use = "shelf";
    const Load load = with_use(narrow).loads.back();
    CHECK_THAT(roaming_range(load, narrow.top).y0, WithinRel(40.0));
    CHECK_THAT(roaming_range(load, narrow.top).y1, WithinRel(40.0));
    CHECK(lies_on(plan_of(narrow), load, {50, 40}));
}

TEST_CASE("a use that is not known is a fault of the piece", "[solver]") {
    Piece piece = oak_top();
    piece.top.outline = RectangleShape{{0, 1000, 0, 600}, 0};
    piece.use = "dessk";
    const std::vector<Fault> faults = faults_of(piece);
    REQUIRE(faults.size() == 1);
    CHECK(faults.front().place == "use");
    CHECK(in_own_units(faults.front().remedy) == "did you mean \"desk\"?");
}

TEST_CASE("the result tells what a use brought, and that no standard is met by it", "[solver]") {
    Piece piece = oak_top();
    piece.top.outline = RectangleShape{{0, 1000, 0, 600}, 0};
    piece.use = "hall table";
    CheckOptions options;
    options.mesh = CheckOptions::Mesh::coarse;
    const Result result = check_piece(piece, options).result;
    const auto told = [&](const std::string& part) {
        return std::any_of(result.assumptions.begin(), result.assumptions.end(), [&](const Message& text) {
            return in_own_units(text).find(part) != std::string::npos;
        });
    };
    CHECK(told("says nothing of any standard"));
    CHECK(told("someone leans a hand on it, 200 N ("));
    CHECK(told(
        "someone leans on it with both arms, 750 N, judged for strength, not for how far the top gives ("));
    CHECK(told("someone presses on its edge, 200 N, judged for tipping and lifting off alone ("));
    const auto basis = std::find_if(result.checks.begin(), result.checks.end(),
                                    [](const auto& row) { return row.check == "sag at once"; });
    REQUIRE(basis != result.checks.end());
    CHECK(in_own_units(basis->basis).find("use \"hall_table\"") != std::string::npos);
}
