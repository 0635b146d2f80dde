// SPDX-License-Identifier: MIT
#include "solver/shell/leaves.hpp"

#include "solver/numeric/symmetric_eigen.hpp"
#include "solver/section/solid_stiffness.hpp"
#include "solver/section/wall_submodel.hpp"
#include "solver/shell/make_shell.hpp"
#include "tests/solver/shell_for_tests.hpp"

#include <Eigen/Core>
#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <cstdio>
#include <functional>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const Elastic wood{
    .E1 = 12000, .E2 = 700, .nu12 = 0.4, .G12 = 800, .G13 = 800, .G23 = 150, .density_kg_m3 = 680};

PlaneStiffness plane_at(double grain_deg) {
    PlaneStiffness plane = plane_stiffness(wood, grain_deg);
    plane.solid = solid_stiffness(wood);
    return plane;
}

/// A thick ellipse, half axes rx and ry, in a thin top about the origin, which is an ellipse itself or a rectangle.
struct Island {
    double half_length = 500, half_width = 350, rx = 260, ry = 170;
    bool in_an_ellipse = true;

    ThicknessField field() const {
        ThicknessField field;
        field.thickness = 30;
        const Rectangle box{-half_length, half_length, -half_width, half_width};
        field.outline =
            in_an_ellipse ? loop_of(EllipseShape{.box = box}) : loop_of(RectangleShape{.box = box});
        field.outline_rows = rows_of(field.outline);
        RecessPlan plan;
        plan.loop = loop_of(
            RectangleShape{.box = {-2 * half_length, 2 * half_length, -2 * half_width, 2 * half_width}});
        plan.skin = 14;
        plan.lands.push_back(loop_of(EllipseShape{.box = {-rx, rx, -ry, ry}}));
        field.cuts = field.outline;
        for (const Loop& loop : {plan.loop, plan.lands.front()})
            field.cuts.insert(field.cuts.end(), loop.begin(), loop.end());
        field.n_region_cuts = field.cuts.size();
        field.recesses_by_place = box_grid(std::vector<Rectangle>{bounds_of(plan.loop)});
        field.recesses.push_back(plan);
        note_leaves(field);
        note_cuts(field);
        return field;
    }
    /// 1 at the middle, nought on the wall.
    double level(Point p) const { return 1 - p.x * p.x / (rx * rx) - p.y * p.y / (ry * ry); }
};

using Five = std::array<double, 5>;
struct Moved {
    Five value, dx, dy;
};

/// A movement with a kink across the wall: smooth all over, and more on the island by its level times what is smooth.
Moved exact(const Island& island, Point p) {
    Moved moved{};
    const double k = 2.2 / island.half_length, level = island.level(p);
    const Point slope{-2 * p.x / (island.rx * island.rx), -2 * p.y / (island.ry * island.ry)};
    for (size_t c = 0; c < 5; ++c) {
        const auto i = static_cast<double>(c);
        const double a = k * p.x + 0.3 * i, b = 0.8 * k * p.y - 0.2 * i;
        moved.value[c] = std::sin(a) * std::cos(b);
        moved.dx[c] = k * std::cos(a) * std::cos(b);
        moved.dy[c] = -0.8 * k * std::sin(a) * std::sin(b);
        if (level <= 0) continue;
        const double g = std::cos(a - b) * (0.5 + 0.1 * i), g_x = -k * std::sin(a - b) * (0.5 + 0.1 * i),
                     g_y = 0.8 * k * std::sin(a - b) * (0.5 + 0.1 * i);
        moved.value[c] += level * g;
        moved.dx[c] += slope.x * g + level * g_x;
        moved.dy[c] += slope.y * g + level * g_y;
    }
    for (double* v : {&moved.value[2], &moved.dx[2], &moved.dy[2]}) *v *= 50; // as a plate turns and moves up
    return moved;
}

std::array<double, 8> strains(const Five& value, const Five& dx, const Five& dy) {
    return {dx[0], dy[1], dy[0] + dx[1], dx[3], dy[4], dy[3] + dx[4], dx[2] + value[3], dy[2] + value[4]};
}

std::array<double, 8> forces_of(const Section& section, const std::array<double, 8>& e) {
    std::array<double, 8> n{};
    for (size_t i = 0; i < 6; ++i)
        for (size_t j = 0; j < 6; ++j) n[i] += section.C[6 * i + j] * e[j];
    for (size_t i = 0; i < 2; ++i)
        for (size_t j = 0; j < 2; ++j) n[6 + i] += section.S[2 * i + j] * e[6 + j];
    return n;
}

/// The error in energy of the solution that is nearest to the exact one, as a share of its own, the root of it.
double error_of(const Island& island, int order, double size) {
    const ThicknessField field = island.field();
    const PlaneStiffness plane = plane_at(25);
    MeshSize mesh_size = even(size);
    mesh_size.across_round = 1;
    const Shell shell = make_shell(plane, field, {}, {}, {.size = mesh_size, .order = order});
    std::vector<double> forces(static_cast<size_t>(shell.stiffness.grid.n_dofs()), 0);
    double energy = 0;
    BasisAt basis;
    for (size_t c = 0; c < shell.mesh.cells.size(); ++c) {
        const Cell& cell = shell.mesh.cells[c];
        if (!cell.active) continue;
        const auto index = static_cast<int>(c);
        const std::vector<int> dofs = cell_dofs(shell, index);
        for (const QuadraturePoint& q : cell_points(field, cell, order + 4)) {
            if (q.place.region == outside) continue;
            const Moved moved = exact(island, {q.x, q.y});
            const std::array<double, 8> e = strains(moved.value, moved.dx, moved.dy),
                                        n = forces_of(shell.sections.at(q.place), e);
            for (size_t i = 0; i < 8; ++i) energy += q.weight * n[i] * e[i];
            basis_at(shell, index, {q.x, q.y}, basis);
            for (size_t k = 0; k < basis.value.size(); ++k)
                for (size_t d = 0; d < 5; ++d) {
                    Five value{}, dx{}, dy{};
                    value[d] = basis.value[k];
                    dx[d] = basis.dx[k];
                    dy[d] = basis.dy[k];
                    const std::array<double, 8> own = strains(value, dx, dy);
                    for (size_t i = 0; i < 8; ++i)
                        forces[static_cast<size_t>(dofs[k * 5 + d])] += q.weight * n[i] * own[i];
                }
        }
    }
    // three nodes of the island keep it from moving as a whole
    const Mesh& mesh = shell.mesh;
    const int i = mesh.nx() / 2, j = mesh.ny() / 2, p = order;
    const int a = shell.node(i * p, j * p), b = shell.node((i + 1) * p, j * p),
              d = shell.node(i * p, (j + 1) * p);
    const std::vector<int> held{5 * a, 5 * a + 1, 5 * a + 2, 5 * b + 1, 5 * b + 2, 5 * d + 2};
    std::vector<double> at_held(forces.size(), 0);
    const std::vector<double> x = solve_shell(shell, forces, held, at_held);
    double work = 0;
    for (size_t k = 0; k < x.size(); ++k) work += forces[k] * x[k];
    return std::sqrt(std::max(0.0, (energy - work) / energy));
}

} // namespace

TEST_CASE("about an island in an ellipse the error falls with the power of the polynomials",
          "[solver][leaves][rate]") {
    for (const bool in_an_ellipse : {false, true})
        for (const int order : {2, 3, 4}) {
            double before = 0;
            for (const double size : {340.0, 170.0, 85.0, 42.5}) {
                const double error = error_of({.in_an_ellipse = in_an_ellipse}, order, size);
                std::printf("%d order %d size %.0f error %.3e power %.2f\n", in_an_ellipse, order, size,
                            error, before > 0 ? std::log2(before / error) : 0.0);
                before = error;
            }
        }
}
