// SPDX-License-Identifier: MIT
#include "solver/interface/bed.hpp"

#include "solver/interface/bearing_parts.hpp"
#include "solver/model/make_model.hpp"
#include "solver/readout/gather.hpp"
#include "solver/readout/movement.hpp"
#include "solver/situations/respond.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// Half of a straight beam over two wide bearers, in short elements with linear movements: Timoshenko's beam,
/// 5/6 of the section in shear, on a bed that is integrated along every element, and that only presses unless
/// it is held. Per mm of width.
struct BeamOnBed {
    double E = 0, G = 0, h = 0, k = 0;
    double between = 0, width = 0,
           past = 0;                ///< middles of the bearers, width of each, top past its outer edge
    double even = 0, at_middle = 0; ///< N/mm2; N/mm of width on the line midway
    bool held = false;
};

/// Solves a symmetric matrix of half bandwidth 3 in rows of 4.
void solve_banded(std::vector<std::array<double, 4>> a, std::vector<double>& b) {
    const std::size_t n = b.size();
    for (std::size_t j = 0; j < n; ++j) // a[i][d] is (i, i - d): L D L'
        for (std::size_t i = j + 1; i < std::min(j + 4, n); ++i) {
            const double factor = a[i][i - j] / a[j][0];
            for (std::size_t m = i; m < std::min(j + 4, n); ++m) a[m][m - i] -= factor * a[m][m - j];
        }
    for (std::size_t j = 0; j < n; ++j)
        for (std::size_t i = j + 1; i < std::min(j + 4, n); ++i) b[i] -= a[i][i - j] / a[j][0] * b[j];
    for (std::size_t j = n; j-- > 0;) {
        for (std::size_t i = j + 1; i < std::min(j + 4, n); ++i) b[j] -= a[i][i - j] * b[i];
        b[j] /= a[j][0];
    }
}

/// How far the middle comes down; how wide it presses.
struct OnBed {
    double down = 0, presses = 0;
};
OnBed rests(const BeamOnBed& beam) {
    const double length = beam.between / 2 + beam.width / 2 + beam.past, longest = 0.25;
    const auto n = static_cast<std::size_t>(std::ceil(length / longest));
    const double dx = length / static_cast<double>(n), EI = beam.E * std::pow(beam.h, 3) / 12,
                 S = 5.0 / 6 * beam.G * beam.h;
    const double from = beam.between / 2 - beam.width / 2, to = from + beam.width;
    std::vector<char> presses(n, 1);
    std::vector<double> moved;
    for (int round = 0; round < 100; ++round) {
        std::vector<std::array<double, 4>> a(2 * n + 2, {0, 0, 0, 0});
        std::vector<double> b(2 * n + 2, 0);
        const auto add = [&](std::size_t i, std::size_t j, double v) {
            if (i >= j) a[i][i - j] += v;
        };
        const auto share =
            [&](std::size_t e) { // of the element that lies over the bearer, with the weights of its two ends
                const double x0 = static_cast<double>(e) * dx, p = std::clamp(from - x0, 0.0, dx),
                             q = std::clamp(to - x0, 0.0, dx);
                return std::pair{p / dx, q / dx};
            };
        for (std::size_t e = 0; e < n; ++e) {
            const std::array<double, 4> shear{-1 / dx, -0.5, 1 / dx, -0.5}, bend{0, -1 / dx, 0, 1 / dx};
            for (std::size_t i = 0; i < 4; ++i)
                for (std::size_t j = 0; j < 4; ++j)
                    add(2 * e + i, 2 * e + j, dx * (S * shear[i] * shear[j] + EI * bend[i] * bend[j]));
            b[2 * e] += beam.even * dx / 2;
            b[2 * e + 2] += beam.even * dx / 2;
            if (!beam.held && !presses[e]) continue;
            const auto [p, q] = share(e);
            if (q <= p) continue;
            const auto third = [](double s) { return s * s * s / 3; };
            add(2 * e, 2 * e, beam.k * dx * (third(1 - p) - third(1 - q)));
            add(2 * e + 2, 2 * e + 2, beam.k * dx * (third(q) - third(p)));
            add(2 * e + 2, 2 * e, beam.k * dx * ((q * q - p * p) / 2 - third(q) + third(p)));
        }
        b[0] += beam.at_middle / 2;
        a[1][0] += 1e12; // no turn midway
        solve_banded(a, b);
        moved = b;
        bool changed = false;
        for (std::size_t e = 0; e < n; ++e) {
            const auto [p, q] = share(e);
            if (q <= p) continue;
            const double middle = (p + q) / 2;
            const char down = moved[2 * e] * (1 - middle) + moved[2 * e + 2] * middle > 0;
            changed = changed || down != presses[e];
            presses[e] = down;
        }
        if (beam.held || !changed) break;
    }
    double wide = 0; // where it comes to lift: between the last element that presses and the next
    for (std::size_t e = 0; e < n; ++e) {
        const double x0 = static_cast<double>(e) * dx;
        if (presses[e]) wide += std::max(0.0, std::min(to, x0 + dx) - std::max(from, x0));
    }
    return {moved[0], wide};
}
double comes_down(const BeamOnBed& beam) { return rests(beam).down; }

constexpr double E3 = 1000;

/// A strip 60 mm wide that bends one way alone, on two bearers across it.
Piece strip_of(const BeamOnBed& beam) {
    Piece piece = plain_piece(beam.between + beam.width + 2 * beam.past, 60, beam.h);
    piece.top.elastic =
        Elastic{.E1 = beam.E, .E2 = E3, .nu12 = 0, .G12 = beam.G, .G13 = beam.G, .G23 = beam.G};
    piece.self_weight = false;
    for (const double x : {beam.past + beam.width / 2, beam.past + beam.width / 2 + beam.between})
        piece.supports.push_back(
            {.name = "bearer",
             .kind = Bearer{.from = {x, 0}, .to = {x, 60}, .width = beam.width, .hold_down = beam.held}});
    if (beam.even > 0) piece.loads.push_back(spread(beam.even));
    const double middle = piece.top.length / 2;
    if (beam.at_middle > 0)
        piece.loads.push_back(
            {.name = "line",
             .kind = LineLoad{
                 .force = beam.at_middle * 60, .from = {middle, 0}, .to = {middle, 60}, .over = {}}});
    return piece;
}

double strip_comes_down(const Piece& piece) {
    const Model model = make_model(
        piece, {.shell = {.size = {.largest = 60, .at_walls = 20, .at_edges = 40, .growth = 0.7}, .order = 4},
                .threads = 1});
    const std::vector<SolvedSituation> solved = solve_situations(piece, model);
    return -movement_at(model.shell, solved.front().dofs, {piece.top.length / 2, 30});
}

} // namespace

TEST_CASE("the beam on a bed that the tests compare with is Hetenyi's", "[solver][bed]") {
    // an endless beam on an endless bed under a line load: P / (2 k) lambda (Hetenyi 1946, table 1), shear
    // left out
    BeamOnBed beam{.E = 12000,
                   .G = 1e9,
                   .h = 20,
                   .k = 2,
                   .between = 1200,
                   .width = 1200,
                   .past = 0,
                   .at_middle = 5,
                   .held = true};
    const double lambda = std::pow(beam.k / (4 * beam.E * std::pow(beam.h, 3) / 12), 0.25);
    CHECK_THAT(comes_down(beam), WithinRel(5 * lambda / (2 * beam.k), 2e-4)); // 0.25 mm elements
}

TEST_CASE("a wide bearer bears a strip as a continuous bed would, pressing alone or held down",
          "[solver][bed]") {
    struct Case {
        double h, E, G, between, width, past;
    };
    for (const bool held : {false, true})
        for (const Case& c : {Case{30, 12000, 800, 900, 20, 0},
                              {30, 12000, 800, 900, 60, 0},
                              {30, 12000, 800, 900, 120, 0},
                              {20, 12000, 800, 900, 40, 60},
                              {44, 12000, 800, 900, 90, 60},
                              {30, 12000, 800, 900, 60, 200},
                              {30, 12000, 800, 900, 120, 200},
                              {20, 900, 150, 500, 60, 0},
                              {30, 900, 150, 500, 90, 40},
                              {12, 12000, 800, 600, 40, 0}})
            for (const bool even : {true, false}) {
                const BeamOnBed beam{.E = c.E,
                                     .G = c.G,
                                     .h = c.h,
                                     .k = E3 / c.h,
                                     .between = c.between,
                                     .width = c.width,
                                     .past = c.past,
                                     .even = even ? 0.002 : 0.0,
                                     .at_middle = even ? 0.0 : 1.0,
                                     .held = held};
                CAPTURE(held, c.h, c.E, c.width, c.past, even);
                CHECK_THAT(strip_comes_down(strip_of(beam)), WithinRel(comes_down(beam), 0.005));
            }
}

TEST_CASE("pressure at a support is its force over what presses, however coarse the tiles", "[solver][bed]") {
    struct Case {
        double h, E, G, between, width, past;
        const char* where;
    };
    for (const Case& c : {Case{30, 12000, 800, 900, 120, 0, "less than 10 mm"},
                          {30, 12000, 800, 900, 120, 60, "less than 10 mm"},
                          {44, 12000, 800, 900, 60, 0, "12 mm"},
                          {44, 12000, 800, 900, 120, 60, "17 mm"},
                          {44, 12000, 800, 900, 40, 60, "12 mm"},
                          {44, 900, 90, 500, 60, 60, "10 mm"}}) {
        const BeamOnBed beam{.E = c.E,
                             .G = c.G,
                             .h = c.h,
                             .k = E3 / c.h,
                             .between = c.between,
                             .width = c.width,
                             .past = c.past,
                             .even = 0.002,
                             .at_middle = 0};
        const Piece piece = strip_of(beam);
        const auto model = std::make_shared<const Model>(make_model(
            piece,
            {.shell = {.size = {.largest = 60, .at_walls = 20, .at_edges = 40, .growth = 0.7}, .order = 4},
             .threads = 1}));
        const Response response =
            gather_response(piece, model, solve_situations(piece, *model), readings_of(model->shell));
        const double presses = std::max(rests(beam).presses, 10.0),
                     by_hand = 0.002 * piece.top.length / 2 / presses; // N/mm of width over mm
        CAPTURE(c.where, c.h, c.width, c.past, presses);
        REQUIRE(presses < 30);
        for (const SupportForce& support : response.situations.front().supports) {
            CHECK(support.pressure_MPa > 0.96 * by_hand); // tiles of some millimetres: little less, some more
            CHECK(support.pressure_MPa < 1.15 * by_hand);
        }
    }
    // on soft pads the top stands evenly
    Piece piece = invented_top();
    for (const Point& at : {Point{60, 60}, {940, 60}, {940, 540}, {60, 540}})
        piece.supports.push_back(pad(at, 60, false, 1e-5));
    piece.loads = {spread(0.002)};
    const auto model = std::make_shared<const Model>(make_model(piece, coarse(4)));
    const Response response =
        gather_response(piece, model, solve_situations(piece, *model), readings_of(model->shell));
    for (const SupportForce& support : response.situations.front().supports)
        CHECK_THAT(support.pressure_MPa, WithinRel(0.002 * 1000 * 600 / 4 / 3600, 1e-3));
}

TEST_CASE("a bed's tiles share its area, its stiffness and its moments", "[solver][bed]") {
    const PlaneStiffness plane = plane_stiffness(invented_wood(), 0);
    const ThicknessField field = thickness_field(invented_top(), plane);
    for (const bool held : {false, true})
        for (const Point size : {Point{20, 20}, Point{90, 60}, Point{700, 120}}) {
            const Bed bed = make_bed({.centre = {400, 300},
                                      .axis = {0.8, 0.6},
                                      .half_along = size.x / 2,
                                      .half_across = size.y / 2},
                                     {.modulus = 900, .held = held, .extent = {1000, 600}}, field, plane);
            double area = 0, stiffness = 0, x = 0, y = 0, second = 0;
            for (const ContactPoint& p : bed.points) {
                area += p.area;
                stiffness += 1 / p.compliance;
                x += p.area * p.at.x;
                y += p.area * p.at.y;
                const double along = (p.at.x - 400) * 0.8 + (p.at.y - 300) * 0.6;
                second += p.area * along * along;
            }
            CHECK_THAT(area, WithinRel(size.x * size.y, 1e-12));
            CHECK_THAT(stiffness, WithinRel(900.0 / 30 * size.x * size.y, 1e-12));
            CHECK_THAT(x / area, WithinRel(400, 1e-12));
            CHECK_THAT(y / area, WithinRel(300, 1e-12));
            // two Gauss points a strip: squares come out right where every strip has two
            CHECK_THAT(second, WithinRel(size.x * size.y * size.x * size.x / 12, 0.01));
            CHECK(bed.bearing == 1);
        }
}

TEST_CASE("a support bears where the underside is at full thickness, and elsewhere there is a gap",
          "[solver][bed]") {
    Piece piece = invented_top();
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {200, 800, 150, 450}, .corner_radius = 0},
                       .depth = 18,
                       .root_radius = 0,
                       .lands = {}}};
    const PlaneStiffness plane = plane_stiffness(*piece.top.elastic, 0);
    const auto planned = [&](Support support) {
        piece.supports = {std::move(support)};
        return plan_supports(piece, thickness_field(piece, plane), plane, 900);
    };
    const auto area = [](const SupportPlan& plan, bool open) {
        double sum = 0;
        for (const ContactPoint& p : plan.points)
            if ((p.gap > 0) == open) sum += p.area;
        return sum;
    };
    // 300 of 600 mm lie under the well, whose walls cross the bearer squarely
    Bearer bearer{.from = {500, 0}, .to = {500, 600}, .width = 40, .hold_down = true};
    const SupportPlan half = planned({"bearer 1", bearer});
    CHECK_THAT(area(half, true), WithinRel(300.0 * 40, 1e-9));
    CHECK_THAT(area(half, false), WithinRel(300.0 * 40, 1e-9));
    CHECK_THAT(half.bearing[0], WithinRel(0.5, 1e-9));
    for (const ContactPoint& p : half.points) CHECK((p.gap == 0 || p.gap == 18) == true);
    for (const ContactPoint& p : half.points) CHECK(p.two_sided == (p.gap == 0)); // it holds where it touches
    REQUIRE(half.warnings.size() == 1);
    CHECK(in_own_units(half.warnings[0]) ==
          "bearer 1 lies partly under the recess \"well\": 50 % of its area bears, the rest is 18 mm below "
          "the wood. Where that is packed, say so (\"packed\": true).");
    bearer.packed = true;
    const SupportPlan packed = planned({"bearer 1", bearer});
    CHECK(area(packed, true) == 0);
    CHECK(packed.warnings.empty());
    double stiffness = 0; // half of it under 30 mm of wood, half under 12
    for (const ContactPoint& p : packed.points) stiffness += 1 / p.compliance;
    CHECK_THAT(stiffness, WithinRel(300 * 40 * (900.0 / 30 + 900.0 / 12), 1e-9));
    const SupportPlan none = planned({"pad 1", Pad{.at = {500, 300}, .size_x = 60, .size_y = 60}});
    CHECK(none.bearing[0] == 0);
    CHECK(in_own_units(none.warnings.at(0)) ==
          "pad 1 lies under the recess \"well\", 18 mm below its floor: it carries nothing until the top has "
          "come down so far. Pack it (\"packed\": true), or move it.");
    CHECK(planned({"pad 1", Pad{.at = {100, 300}, .size_x = 60, .size_y = 60}}).warnings.empty());
    const SupportPlan line =
        planned(edge({500, 0}, {500, 600})); // a knife edge touches all along, which is said
    CHECK(line.warnings ==
          std::vector<Message>{"edge has no width: it is taken to touch the floor of the recess \"well\" "
                               "too, as if packed. Give it its width, and there is a gap."});
    CHECK(planned(edge({100, 0}, {100, 600})).warnings.empty());
    // a round wall: a pad about the middle of a quarter circle's arc
    piece.recesses[0].shape = RectangleShape{.box = {200, 800, 150, 450}, .corner_radius = 100};
    const SupportPlan round = planned({"pad 1", Pad{.at = {250, 200}, .size_x = 100, .size_y = 100}});
    const double outside_the_arc = 100.0 * 100 * (1 - std::acos(-1.0) / 4); // the pad is the corner's square
    CHECK_THAT(area(round, false), WithinRel(outside_the_arc, 0.02));       // 8 x 8 samples a tile
    CHECK_THAT(area(round, false) + area(round, true), WithinRel(1e4, 1e-9));
}

TEST_CASE("a sag spans between what bears: not to the middle of a bearer under a recess", "[solver][bed]") {
    Piece piece = invented_top();
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {200, 800, 150, 450}, .corner_radius = 0},
                       .depth = 18,
                       .root_radius = 0,
                       .lands = {}}};
    const ThicknessField field = thickness_field(piece, plane_stiffness(*piece.top.elastic, 0));
    const auto parts = [&](Support support) {
        piece.supports = {edge({20, 0}, {20, 600}), std::move(support)}; // the first always bears
        std::vector<Support> some = parts_that_bear(piece, field);
        some.erase(some.begin());
        return some;
    };
    Bearer bearer{.from = {500, 20}, .to = {500, 580}, .width = 40};
    const std::vector<Support> two = parts({"bearer", bearer});
    REQUIRE(two.size() == 2);
    const auto &front = std::get<Bearer>(two[0].kind), &back = std::get<Bearer>(two[1].kind);
    CHECK_THAT(front.from.y, WithinAbs(20, 1e-3));
    CHECK_THAT(front.to.y, WithinAbs(150, 1e-3));
    CHECK_THAT(back.from.y, WithinAbs(450, 1e-3));
    CHECK_THAT(back.to.y, WithinAbs(580, 1e-3));
    CHECK(front.width == 40);
    bearer.packed = true;
    CHECK(parts({"bearer", bearer}) == std::vector<Support>{{"bearer", bearer}});
    CHECK(parts({"rail", Rail{.from = {500, 20},
                              .to = {500, 580},
                              .section = "bar 22x90",
                              .metal = {},
                              .wood = "black_cherry",
                              .elastic = {}}})
              .size() == 2);
    CHECK(parts({"pad", Pad{.at = {500, 300}, .size_x = 60, .size_y = 60}}).empty());
    CHECK(parts({"pad", Pad{.at = {200, 300}, .size_x = 60, .size_y = 60}}).size() == 1); // half of it
    CHECK(parts(edge({500, 0}, {500, 600})).size() == 1); // a knife edge touches all along
}

TEST_CASE("a bearer over a recess equals the same bearer drawn as the pads that touch", "[solver][bed]") {
    Piece piece = invented_top();
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {150, 850, 120, 480}, .corner_radius = 0},
                       .depth = 15,
                       .root_radius = 0,
                       .lands = {}}};
    piece.loads = {spread(0.002)};
    const auto sinks = [&] {
        const Model model = make_model(piece, coarse(4));
        return -movement_at(model.shell, solve_situations(piece, model).front().dofs, {500, 300});
    };
    for (const bool held : {false, true}) {
        piece.supports.clear();
        for (const double x : {200.0, 800.0})
            piece.supports.push_back(
                {"bearer", Bearer{.from = {x, 20}, .to = {x, 580}, .width = 50, .hold_down = held}});
        const double as_bearers = sinks();
        piece.supports.clear();
        for (const double x : {200.0, 800.0})
            for (const double y : {70.0, 530.0})
                piece.supports.push_back(
                    {"pad", Pad{.at = {x, y}, .size_x = 50, .size_y = 100, .hold_down = held}});
        CHECK_THAT(as_bearers, WithinRel(sinks(), 0.005));
    }
}

TEST_CASE("the top comes down on what lies under a recess only when it has come so far", "[solver][bed]") {
    Piece piece = invented_top();
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {150, 850, 120, 480}, .corner_radius = 0},
                       .depth = 4,
                       .root_radius = 0,
                       .lands = {}}};
    for (const Point& at : {Point{60, 60}, {940, 60}, {940, 540}, {60, 540}})
        piece.supports.push_back(pad(at));
    piece.supports.push_back(pad({500, 300}));
    const auto force_for = [&](double pressure) {
        piece.loads = {spread(pressure)};
        const Model model = make_model(piece, coarse(4));
        const std::vector<SolvedSituation> solved = solve_situations(piece, model);
        double mean = 0, area = 0; // over the pad
        const std::vector<double> up = at_points(model.columns->forces, solved.front().dofs);
        for (std::size_t k = 0; k < model.points.size(); ++k)
            if (model.points[k].support == 4)
                mean -= up[k] * model.points[k].area, area += model.points[k].area;
        CHECK_THAT(area, WithinRel(3600, 1e-12));
        return std::pair{solved.front().support_force[4], mean / area};
    };
    const auto [light, little] = force_for(0.001);
    CHECK(little < 4);
    CHECK(light == 0);
    const auto [heavy, much] = force_for(0.02);
    CHECK(heavy > 0);
    const double bed =
        through_thickness_modulus(piece) / 26; // then it bears, on what is left above the recess
    CHECK_THAT(much, WithinRel(4 + heavy / (bed * 3600), 1e-7));
}
