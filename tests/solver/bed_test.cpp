// SPDX-License-Identifier: MIT
#include "solver/interface/bed.hpp"

#include "solver/analysis/movement.hpp"
#include "solver/analysis/respond.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// Half of a straight beam over two wide bearers, in short elements with linear movements: Timoshenko's beam, 5/6 of the section in
/// shear, on a bed that is integrated along every element, and that only presses unless it is held. Per mm of width.
struct BeamOnBed {
    double E = 0, G = 0, h = 0, k = 0;
    double between = 0, width = 0, past = 0; ///< middles of the bearers, width of each, top past its outer edge
    double even = 0, at_middle = 0;          ///< N/mm2; N/mm of width on the line midway
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

/// How far the middle comes down.
double comes_down(const BeamOnBed& beam) {
    const double length = beam.between / 2 + beam.width / 2 + beam.past, longest = 0.25;
    const auto n = static_cast<std::size_t>(std::ceil(length / longest));
    const double dx = length / static_cast<double>(n), EI = beam.E * std::pow(beam.h, 3) / 12, S = 5.0 / 6 * beam.G * beam.h;
    const double from = beam.between / 2 - beam.width / 2, to = from + beam.width;
    std::vector<char> presses(n, 1);
    std::vector<double> moved;
    for (int round = 0; round < 100; ++round) {
        std::vector<std::array<double, 4>> a(2 * n + 2, {0, 0, 0, 0});
        std::vector<double> b(2 * n + 2, 0);
        const auto add = [&](std::size_t i, std::size_t j, double v) {
            if (i >= j) a[i][i - j] += v;
        };
        const auto share = [&](std::size_t e) { // of the element that lies over the bearer, with the weights of its two ends
            const double x0 = static_cast<double>(e) * dx, p = std::clamp(from - x0, 0.0, dx), q = std::clamp(to - x0, 0.0, dx);
            return std::pair{p / dx, q / dx};
        };
        for (std::size_t e = 0; e < n; ++e) {
            const std::array<double, 4> shear{-1 / dx, -0.5, 1 / dx, -0.5}, bend{0, -1 / dx, 0, 1 / dx};
            for (std::size_t i = 0; i < 4; ++i)
                for (std::size_t j = 0; j < 4; ++j) add(2 * e + i, 2 * e + j, dx * (S * shear[i] * shear[j] + EI * bend[i] * bend[j]));
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
    return moved[0];
}

constexpr double E3 = 1000;

/// A strip 60 mm wide that bends one way alone, on two bearers across it.
Piece strip_of(const BeamOnBed& beam) {
    Piece piece = plain_piece(beam.between + beam.width + 2 * beam.past, 60, beam.h);
    piece.top.elastic = Elastic{.E1 = beam.E, .E2 = E3, .nu12 = 0, .G12 = beam.G, .G13 = beam.G, .G23 = beam.G};
    piece.self_weight = false;
    for (const double x : {beam.past + beam.width / 2, beam.past + beam.width / 2 + beam.between})
        piece.supports.push_back({.name = "bearer", .kind = Bearer{.from = {x, 0}, .to = {x, 60}, .width = beam.width, .hold_down = beam.held}});
    if (beam.even > 0) piece.loads.push_back(spread(beam.even));
    const double middle = piece.top.length / 2;
    if (beam.at_middle > 0) piece.loads.push_back({.name = "line", .kind = LineLoad{.force = beam.at_middle * 60, .from = {middle, 0}, .to = {middle, 60}}});
    return piece;
}

double strip_comes_down(const Piece& piece) {
    const Model model = make_model(piece, {.shell = {.size = {.largest = 60, .at_walls = 20, .at_edges = 40, .growth = 0.7}, .order = 4}, .threads = 1});
    const std::vector<SolvedSituation> solved = solve_situations(piece, model);
    return -movement_at(model.shell, solved.front().dofs, {piece.top.length / 2, 30});
}

} // namespace

TEST_CASE("the beam on a bed that the tests compare with is Hetenyi's", "[solver][bed]") {
    // an endless beam on an endless bed under a line load: P / (2 k) lambda (Hetenyi 1946, table 1), shear left out
    BeamOnBed beam{.E = 12000, .G = 1e9, .h = 20, .k = 2, .between = 1200, .width = 1200, .past = 0, .at_middle = 5, .held = true};
    const double lambda = std::pow(beam.k / (4 * beam.E * std::pow(beam.h, 3) / 12), 0.25);
    CHECK_THAT(comes_down(beam), WithinRel(5 * lambda / (2 * beam.k), 2e-4)); // 0.25 mm elements
}

TEST_CASE("a wide bearer bears a strip as a continuous bed would, pressing alone or held down", "[solver][bed]") {
    struct Case {
        double h, E, G, between, width, past;
    };
    for (const bool held : {false, true})
        for (const Case& c : {Case{30, 12000, 800, 900, 20, 0}, {30, 12000, 800, 900, 60, 0}, {30, 12000, 800, 900, 120, 0}, {20, 12000, 800, 900, 40, 60},
                              {44, 12000, 800, 900, 90, 60}, {20, 900, 150, 500, 60, 0}, {30, 900, 150, 500, 90, 40}, {12, 12000, 800, 600, 40, 0}})
            for (const bool even : {true, false}) {
                const BeamOnBed beam{.E = c.E, .G = c.G, .h = c.h, .k = E3 / c.h, .between = c.between, .width = c.width, .past = c.past,
                                     .even = even ? 0.002 : 0, .at_middle = even ? 0 : 1, .held = held};
                CAPTURE(held, c.h, c.E, c.width, c.past, even);
                CHECK_THAT(strip_comes_down(strip_of(beam)), WithinRel(comes_down(beam), 0.005));
            }
}
