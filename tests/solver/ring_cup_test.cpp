// SPDX-License-Identifier: MIT
// The exact field of a board whose rings are circles about the pith: u_r = e_R r, u_theta = (e_T - e_R) r theta.
#include "solver/seasons/ring_cup.hpp"

#include "solver/numeric/quadrature.hpp"

#include <Eigen/Dense>
#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double e_R = -0.006, e_T = -0.011, k = e_T - e_R; // drying

struct Moved {
    double u = 0, w = 0; // sideways, away from the pith
};
Moved moved(double x, double y) {
    const double r = std::hypot(x, y), theta = std::atan2(x, y);
    const double out = e_R * r, round = k * r * theta;
    return {out * std::sin(theta) + round * std::cos(theta), out * std::cos(theta) - round * std::sin(theta)};
}

double middle_height(const PanelShape& panel) { return panel.height[panel.height.size() / 2]; }

/// Legendre polynomials and their slopes at x.
struct Legendre {
    std::vector<double> value, slope;
    Legendre(double x, int n) : value(static_cast<std::size_t>(n), 1), slope(static_cast<std::size_t>(n), 0) {
        for (std::size_t i = 1; i < value.size(); ++i) {
            const auto m = static_cast<double>(i);
            value[i] = i == 1 ? x : ((2 * m - 1) * x * value[i - 1] - (m - 1) * value[i - 2]) / m;
            slope[i] = m * value[i - 1] + x * slope[i - 1];
        }
    }
};

/// Middle of the show face above the chord of its edges, of a free section that wants e_R and e_T, elastic in the
/// directions of its rings: displacements are products of Legendre polynomials.
double section_cup(const RingBoard& board, double thickness) {
    constexpr int nx = 17, ny = 9;
    constexpr int n = 2 * nx * ny;
    const double half_x = board.width / 2, half_y = thickness / 2, y_middle = board.pith + half_y;
    Eigen::MatrixXd system = Eigen::MatrixXd::Zero(n + 3, n + 3);
    Eigen::VectorXd right = Eigen::VectorXd::Zero(n + 3);
    Eigen::Matrix3d elastic; // along the radius, along the rings, sheared
    elastic << 4, 0.6, 0, 0.6, 1, 0, 0, 0, 0.7;
    const Rule &along = gauss_rule(22), &through = gauss_rule(14);
    for (std::size_t p = 0; p < along.points.size(); ++p)
        for (std::size_t q = 0; q < through.points.size(); ++q) {
            const double a = along.points[p], c = through.points[q], x = half_x * a,
                         y = y_middle + half_y * c, r = std::hypot(x, y), co = y / r, si = x / r,
                         weight = along.weights[p] * through.weights[q] * half_x * half_y;
            Eigen::Matrix3d turn; // strains along x, along y, sheared into those of the rings
            turn << si * si, co * co, si * co, co * co, si * si, -si * co, 2 * si * co, -2 * si * co,
                co * co - si * si;
            const Legendre in_x(a, nx), in_y(c, ny);
            Eigen::MatrixXd B = Eigen::MatrixXd::Zero(3, n);
            Eigen::MatrixXd rigid = Eigen::MatrixXd::Zero(3, n);
            for (int i = 0; i < nx; ++i)
                for (int j = 0; j < ny; ++j) {
                    const auto at_i = static_cast<std::size_t>(i), at_j = static_cast<std::size_t>(j);
                    const int u = 2 * (i * ny + j), w = u + 1;
                    const double dx = in_x.slope[at_i] * in_y.value[at_j] / half_x,
                                 dy = in_x.value[at_i] * in_y.slope[at_j] / half_y;
                    B(0, u) = dx;
                    B(1, w) = dy;
                    B(2, u) = dy;
                    B(2, w) = dx;
                    rigid(0, u) = rigid(1, w) = in_x.value[at_i] * in_y.value[at_j];
                    rigid(2, u) = dy;
                    rigid(2, w) = -dx;
                }
            const Eigen::MatrixXd ring = turn * B;
            system.topLeftCorner(n, n) += weight * ring.transpose() * elastic * ring;
            right.head(n) += weight * ring.transpose() * elastic * Eigen::Vector3d(e_R, e_T, 0);
            system.bottomLeftCorner(3, n) += weight * rigid;
        }
    system.topRightCorner(n, 3) = system.bottomLeftCorner(3, n).transpose();
    const Eigen::VectorXd moved = system.partialPivLu().solve(right);
    const auto rise = [&](double a) { // of the show face, away from the pith
        const Legendre in_x(a, nx), in_y(board.bark_up ? 1 : -1, ny);
        double w = 0;
        for (int i = 0; i < nx; ++i)
            for (int j = 0; j < ny; ++j)
                w += moved[2 * (i * ny + j) + 1] * in_x.value[static_cast<std::size_t>(i)] *
                     in_y.value[static_cast<std::size_t>(j)];
        return w;
    };
    const double away = rise(0) - (rise(-1) + rise(1)) / 2;
    return board.bark_up ? away : -away;
}

} // namespace

TEST_CASE("the ring field stretches wood by the shrinkage along and across the rings and leaves no stress",
          "[solver][published]") {
    // strains of the field by central differences, turned into the directions of the rings
    const double d = 1e-3;
    for (const double x : {0.0, 25.0, 80.0})
        for (const double y : {40.0, 110.0}) {
            const Moved right = moved(x + d, y), left = moved(x - d, y), up = moved(x, y + d),
                        down = moved(x, y - d);
            const double xx = (right.u - left.u) / (2 * d), yy = (up.w - down.w) / (2 * d),
                         xy = (up.u - down.u + right.w - left.w) / (4 * d);
            const double c = y / std::hypot(x, y), s = x / std::hypot(x, y);
            CHECK_THAT(s * s * xx + c * c * yy + 2 * s * c * xy, WithinAbs(e_R, 1e-9));
            CHECK_THAT(c * c * xx + s * s * yy - 2 * s * c * xy, WithinAbs(e_T, 1e-9));
            CHECK_THAT(s * c * (xx - yy) + (c * c - s * s) * xy, WithinAbs(0, 1e-9));
        }
}

TEST_CASE("the face of a board moves as the ring field has it", "[solver][published]") {
    for (const double x : {0.0, 12.0, 70.0, 150.0})
        for (const double dist : {0.0, 8.0, 60.0, 400.0})
            CHECK_THAT(ring_rise(k, x, dist), WithinAbs(moved(x, dist).w - e_R * dist, 1e-9));
    // an edge turns as the line at x = w / 2 does at y
    for (const double y : {30.0, 200.0}) {
        const double width = 140, step = 1e-3;
        const double turn = (moved(width / 2, y + step).u - moved(width / 2, y - step).u) / (2 * step);
        CHECK_THAT(ring_edge_turn(k, width, y), WithinAbs(turn, 1e-9));
    }
}

TEST_CASE("a section of elastic wood whose rings shrink unlike cups as the ring field has it, either way up",
          "[solver][published]") {
    // one element of high order over the section of a board, four times as stiff along the radius as along the rings
    for (const RingBoard& board : {RingBoard{.width = 110, .pith = 60, .bark_up = true},
                                   RingBoard{.width = 110, .pith = 60, .bark_up = false}}) {
        constexpr double thickness = 27;
        const double cup = section_cup(board, thickness);
        CHECK(std::abs(cup) > 0.1);
        CHECK_THAT(board_cup(board, thickness, k), WithinAbs(cup, 1e-6));
    }
}

TEST_CASE(
    "a drying board goes hollow on its bark face, crowns on its pith face, and turned over does the opposite",
    "[solver]") {
    const RingBoard up{.width = 150, .pith = 50, .bark_up = true},
        down{.width = 150, .pith = 50, .bark_up = false};
    CHECK(board_cup(up, 30, k) < 0);
    CHECK(board_cup(down, 30, k) > 0);
    CHECK_THAT(board_cup(up, 30, -k), WithinRel(-board_cup(up, 30, k), 1e-12));
    // the face nearer the pith cups more
    CHECK(board_cup(down, 30, k) > -board_cup(up, 30, k));
}

TEST_CASE("the cup of a board far from its pith falls as the square of its width", "[solver][published]") {
    const auto cup = [](double width) {
        return board_cup({.width = width, .pith = 500, .bark_up = true}, 25, k);
    };
    CHECK_THAT(cup(100) / cup(50), WithinRel(4.0, 0.01));
    CHECK_THAT(cup(100), WithinRel(k * 100 * 100 / (4 * 525), 0.005)); // k w^2 / (4 d)
}

TEST_CASE("a panel of boards all one way up bends by the turn of their edges, not as one wide board would",
          "[solver][published]") {
    // joints lie on an arc of curvature (2 k / w) (atan a - a / (1 + a^2)), a = w / (2 y)
    constexpr double width = 80, pith = 70, t = 24, y = pith + t / 2, a = width / (2 * y);
    constexpr int n = 12;
    const std::vector<RingBoard> boards(n, {.width = width, .pith = pith, .bark_up = false});
    const PanelShape panel = panel_shape(boards, t, k);
    const double curvature = -(2 * k / width) * (std::atan(a) - a / (1 + a * a));
    // pith up and drying it crowns; six joints either side of the middle joint
    CHECK_THAT(middle_height(panel), WithinRel(curvature * (n * width) * (n * width) / 8, 1e-9));
    CHECK(panel.crown > 0);
    const double one_wide = board_cup({.width = n * width, .pith = pith, .bark_up = false}, t, k);
    CHECK(panel.crown < one_wide / 3);
}

TEST_CASE("boards laid alternately leave a panel level, with each board's own scallop",
          "[solver][published]") {
    constexpr double width = 120, pith = 60, t = 27;
    std::vector<RingBoard> boards(8, {.width = width, .pith = pith, .bark_up = false});
    const PanelShape panel = panel_shape(alternating(boards), t, k);
    // an even number: the ends of each pair are as upright as they were, so all pairs are alike and the joints lie
    // on two levels; halfway up, edges turn by the board's own turn
    const PanelShape pair =
        panel_shape(alternating(std::vector<RingBoard>(boards.begin(), boards.begin() + 2)), t, k);
    const double per_board = static_cast<double>(panel.at.size() - 1) / 8;
    for (int i = 0; i <= 8; i += 2)
        CHECK_THAT(panel.height[static_cast<std::size_t>(i * per_board)], WithinAbs(0, 1e-9));
    CHECK_THAT(panel.height[static_cast<std::size_t>(per_board)],
               WithinAbs(pair.height[static_cast<std::size_t>(per_board)], 1e-9));
}

TEST_CASE("alternating pays only for piths that are near", "[solver][published]") {
    // boards 120 mm, 27 mm thick: the design's own computation has the turn at about 0.2 m
    const auto waves = [](double pith) {
        const std::vector<RingBoard> boards(7, {.width = 120, .pith = pith, .bark_up = false});
        return std::pair{panel_shape(boards, 27, k).wave, panel_shape(alternating(boards), 27, k).wave};
    };
    CHECK(waves(60).second < waves(60).first);
    CHECK(waves(400).second > 0.7 * waves(400).first);
}

TEST_CASE("the board that is turned is the one that stands against its fellows, and turning it is told",
          "[solver]") {
    // far piths: the scallops of one way up add up to little, one board the other way makes a step of its edges
    std::vector<RingBoard> boards(5, {.width = 140, .pith = 70, .bark_up = false});
    const TurnedBoards best = flattest(boards, 27, k);
    for (const int i : best.turned) {
        REQUIRE(i >= 0);
        boards[static_cast<std::size_t>(i)].bark_up = !boards[static_cast<std::size_t>(i)].bark_up;
    }
    CHECK_THAT(panel_shape(boards, 27, k).wave, WithinAbs(best.wave, 1e-12));
    CHECK_FALSE(best.turned.empty());
    for (std::size_t i = 0; i < boards.size(); ++i) { // no single turn more helps
        boards[i].bark_up = !boards[i].bark_up;
        CHECK(panel_shape(boards, 27, k).wave >= 0.98 * best.wave);
        boards[i].bark_up = !boards[i].bark_up;
    }
}

TEST_CASE("a panel seen from its other edge, or turned over, has the same shape mirrored",
          "[solver][property]") {
    const std::vector<RingBoard> boards{{.width = 90, .pith = 40, .bark_up = true},
                                        {.width = 140, .pith = 120, .bark_up = false},
                                        {.width = 110, .pith = 65, .bark_up = false}};
    const std::vector<RingBoard> mirrored(boards.rbegin(), boards.rend());
    const PanelShape one = panel_shape(boards, 30, k), other = panel_shape(mirrored, 30, k);
    CHECK_THAT(one.crown, WithinRel(other.crown, 1e-9));
    CHECK_THAT(one.wave, WithinRel(other.wave, 1e-9));
    for (std::size_t i = 0; i < one.height.size(); ++i)
        CHECK_THAT(one.height[i], WithinAbs(other.height[other.height.size() - 1 - i], 1e-9));
}
