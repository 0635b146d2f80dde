// SPDX-License-Identifier: MIT
#include "solver/readout/flatness.hpp"

#include "solver/model/make_model.hpp"
#include "solver/situations/respond.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Loop rectangle(double length, double width) { return loop_of(RectangleShape{{0, length, 0, width}, 0}); }

/// Every straightedge on a fine grid of lines, with the ends wherever `fits` lets them be.
double brute_force(double grain_rad, double reach, const std::function<bool(Point)>& fits,
                   const std::function<double(Point)>& face) {
    constexpr double step = 4;
    double most = 0;
    for (const double angle : {grain_rad, grain_rad + std::numbers::pi / 2}) {
        const Point way{std::cos(angle), std::sin(angle)};
        const auto at = [&](double a, double c) {
            return Point{a * way.x - c * way.y, a * way.y + c * way.x};
        };
        for (double c = -reach; c <= reach; c += step) {
            std::vector<double> as, heights;
            for (double a = -reach; a <= reach; a += step)
                if (fits(at(a, c)))
                    as.push_back(a), heights.push_back(face(at(a, c))); // a convex top: one stretch
            if (as.size() < 3) continue;
            const auto n = std::min(as.size() - 1, static_cast<std::size_t>(straightedge_mm / step));
            for (std::size_t i = 0; i + n < as.size(); ++i)
                for (std::size_t k = 0; k <= n; ++k) {
                    const double share = static_cast<double>(k) / static_cast<double>(n);
                    most = std::max(
                        most, std::abs((1 - share) * heights[i] + share * heights[i + n] - heights[i + k]));
                }
        }
    }
    return most;
}

} // namespace

TEST_CASE("under a straightedge of 600 mm a parabola k x^2 is 300^2 k from flat", "[solver][flatness]") {
    for (const double k : {1e-5, -1e-5}) { // hollow, humped
        const Flatness along =
            flatness_of(rectangle(1500, 500), 0, [k](Point p) { return k * p.x * p.x + 0.002 * p.y - 3; });
        CHECK_THAT(along.value_mm, WithinRel(k * 300 * 300, 1e-4));
        CHECK_THAT(std::hypot(along.to.x - along.from.x, along.to.y - along.from.y), WithinRel(600, 1e-9));
        CHECK_THAT(along.at.x - along.from.x, WithinAbs(300, 1)); // in its middle
    }
}

TEST_CASE("on a narrow top the straightedge across is as long as fits", "[solver][flatness]") {
    const Flatness across = flatness_of(rectangle(2000, 240), 0, [](Point p) { return 4e-5 * p.y * p.y; });
    CHECK_THAT(across.value_mm, WithinRel(4e-5 * 120 * 120, 1e-3));
    CHECK_THAT(std::abs(across.to.y - across.from.y), WithinAbs(240, 0.01));
}

TEST_CASE("a tilted flat face is flat", "[solver][flatness]") {
    CHECK_THAT(
        flatness_of(rectangle(900, 500), 0.3, [](Point p) { return 0.01 * p.x - 0.02 * p.y + 7; }).value_mm,
        WithinAbs(0, 1e-9));
}

TEST_CASE("turning the drawing changes no flatness", "[solver][flatness]") {
    const auto face = [](Point p) {
        return 0.5 * std::sin(p.x / 130) * std::cos(p.y / 170) + 1e-6 * p.x * p.x;
    };
    const Flatness drawn = flatness_of(rectangle(1200, 700), 0, face);
    for (const double degrees : {17.0, 90.0}) {
        const double t = degrees * std::numbers::pi / 180, c = std::cos(t), s = std::sin(t);
        PolygonShape shape;
        for (const Point p : {Point{0, 0}, {1200, 0}, {1200, 700}, {0, 700}})
            shape.points.push_back({c * p.x - s * p.y, s * p.x + c * p.y});
        const Flatness turned = flatness_of(loop_of(shape), t, [&](Point p) {
            return face({c * p.x + s * p.y, -s * p.x + c * p.y});
        });
        CHECK_THAT(turned.value_mm, WithinRel(drawn.value_mm, 1e-3));
    }
}

TEST_CASE("flatness is as great as every straightedge tried tells, to a hundredth", "[solver][flatness]") {
    const auto waves = [](Point p) {
        return 0.8 * std::exp(-(std::pow((p.x - 330) / 70, 2) + std::pow((p.y - 410) / 110, 2))) -
               0.3 * std::cos(p.x / 210 + p.y / 300);
    };
    const double grain = 0.4;
    CHECK_THAT(
        std::abs(flatness_of(rectangle(1000, 600), grain, waves).value_mm),
        WithinRel(brute_force(
                      grain, 1200, [](Point p) { return p.x >= 0 && p.x <= 1000 && p.y >= 0 && p.y <= 600; },
                      waves),
                  0.01));
    const Loop oval = loop_of(EllipseShape{{0, 900, 0, 520}});
    const auto on_oval = [](Point p) {
        return std::pow((p.x - 450) / 450, 2) + std::pow((p.y - 260) / 260, 2) <= 1;
    };
    CHECK_THAT(std::abs(flatness_of(oval, grain, waves).value_mm),
               WithinRel(brute_force(grain, 1200, on_oval, waves), 0.01));
}

TEST_CASE("a plank on two edges under an even load is as flat as beam theory says", "[solver][flatness]") {
    // w(x) of Timoshenko's beam under q on a span L: q/(24 E I) (x^4 - 2 L x^3 + L^3 x) + q/(2 k G A) (L x -
    // x^2), k = 5/6; the straightedge lies about the middle: f = w(L/2) - w(L/2 - 300). Without Poisson's
    // ratio a plate between edges is that beam.
    Piece plank = invented_top();
    plank.top.elastic->nu12 = 0;
    plank.supports = {edge({0, 0}, {0, 600}), edge({1000, 0}, {1000, 600})};
    plank.loads = {spread(0.002, Duration::long_term)};
    const Model model = make_model(plank, coarse(4));
    const std::vector<SolvedSituation> solved = solve_situations(plank, model);
    const double E = 11000, G = 700, h = 30, L = 1000, q = 0.002;
    const double bend = E * h * h * h / 12, shear = 5.0 / 6 * G * h;
    const auto w = [&](double x) {
        return q / (24 * bend) * (std::pow(x, 4) - 2 * L * std::pow(x, 3) + std::pow(L, 3) * x) +
               q / (2 * shear) * (L * x - x * x);
    };
    const Flatness at_once = flatness_of(model.shell, solved.front().dofs);
    CHECK_THAT(at_once.value_mm, WithinRel(w(500) - w(200), 0.005));
    CHECK_THAT(at_once.at.x, WithinAbs(500, 5));
}
