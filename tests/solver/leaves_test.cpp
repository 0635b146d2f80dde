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
#include <vector>

using namespace hollowtop;
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

TEST_CASE("about an island in an ellipse the error falls as the polynomials let it",
          "[solver][leaves][slow]") {
    // In energy it falls with the power of the order while it is well over what the void's stiffness leaves: the root of
    // 1e-7, times the root of the share that is void. A joint on a curve costs up to one power.
    struct Expected {
        int order;
        std::vector<double> sizes;
        double least_power, last_error;
    };
    for (const bool in_an_ellipse : {false, true})
        for (const Expected& expected :
             {Expected{2, {340, 170, 85, 42.5}, 1.7, 3e-3}, Expected{3, {340, 170, 85}, 2, 6e-4},
              Expected{4, {340, 170}, 2.9, 6e-4}}) {
            double before = 0;
            for (const double size : expected.sizes) {
                const double error = error_of({.in_an_ellipse = in_an_ellipse}, expected.order, size);
                INFO("order " << expected.order << ", cells of " << size << " mm, in an ellipse "
                              << in_an_ellipse << ": error " << error << ", before " << before);
                if (before > 0) CHECK(std::log2(before / error) > expected.least_power);
                if (size == expected.sizes.back()) CHECK(error < expected.last_error);
                before = error;
            }
        }
}

TEST_CASE("with fields on both sides of a wall the factor still solves its own matrix", "[solver][leaves]") {
    const Island island;
    MeshSize size = even(200);
    size.across_round = 1;
    const Shell shell = make_shell(plane_at(25), island.field(), {}, {}, {.size = size, .order = 3});
    const CellGrid& grid = shell.stiffness.grid;
    REQUIRE(!grid.more_nodes.empty());
    std::vector<int> held;
    const int middle = shell.node(shell.mesh.nx() / 2 * 3, shell.mesh.ny() / 2 * 3);
    for (int c = 0; c < dofs_per_node; ++c) held.push_back(middle * dofs_per_node + c);
    const int above = shell.node(shell.mesh.nx() / 2 * 3, (shell.mesh.ny() / 2 + 1) * 3);
    held.push_back(above * dofs_per_node); // nor may it turn about the middle
    GridStiffness stiffness = shell.stiffness;
    stiffness.held = held;
    // forces of a movement: what lies in the void has a millionth of the wood's stiffness and would fly off under others
    std::vector<double> moved(static_cast<size_t>(grid.n_dofs())), forces(moved.size());
    for (size_t k = 0; k < moved.size(); ++k) moved[k] = std::sin(1.0 + 0.37 * static_cast<double>(k));
    multiply(stiffness, moved, forces);
    std::vector<double> x = forces, back(forces.size());
    Factor(stiffness, 1).solve(x, 1);
    multiply(stiffness, x, back);
    double worst = 0, greatest = 0;
    for (size_t k = 0; k < x.size(); ++k) {
        if (x[k] == 0) continue; // held, or in no cell
        worst = std::max(worst, std::abs(back[k] - forces[k]));
        greatest = std::max(greatest, std::abs(forces[k]));
    }
    CHECK(worst < 1e-11 * greatest); // rounding
    const std::vector<double> two_threads = [&] {
        std::vector<double> y = forces;
        Factor(stiffness, 2).solve(y, 1);
        return y;
    }();
    CHECK(two_threads == x);
}

TEST_CASE("a joint gives way by what the section of the wall says", "[solver][leaves]") {
    constexpr double thick = 30, skin = 9;
    for (const double angle_deg : {0.0, 35.0, 90.0}) {
        const double angle = angle_deg * std::acos(-1.0) / 180;
        const Point n{std::cos(angle), std::sin(angle)};
        Shell shell;
        shell.plane = plane_at(0);
        Wall wall;
        wall.skin = wall.skin_along = skin;
        wall.thick = thick;
        wall.root_radius = 1;
        shell.field.walls.push_back(wall);
        const Seam seam{.piece = {}, .wall = 0};
        const std::array<double, 25> K = seam_stiffness(shell, seam, n, skin);
        const Eigen::Map<const Eigen::Matrix<double, 5, 5>> stiffness(K.data());
        CHECK((stiffness - stiffness.transpose()).norm() == 0);
        const SymmetricEigen eigen = symmetric_eigen({K.data(), K.size()}, 5);
        CHECK(eigen.values.front() > 0);
        // a moment about the skin's axis: its pull there is nought, and at the top face as well
        const Matrix3 X = wall_submodel(shell.plane, thick, skin, 1, n)->extra;
        Eigen::Matrix<double, 5, 1> force;
        const double pull = 0.7, moment = 40, shear = 0.3, z = -skin / 2; // of the axis over the top face
        force << n.x * pull, n.y * pull, shear, n.x * (moment + z * pull), n.y * (moment + z * pull);
        const Eigen::Matrix<double, 5, 1> jump = stiffness.inverse() * force;
        const auto across = [&](Eigen::Index i) { return n.x * jump[i] + n.y * jump[i + 1]; };
        const std::array<double, 3> given{across(0) + z * across(3), across(3), jump[2]};
        for (size_t i = 0; i < 3; ++i) {
            INFO("at " << angle_deg << " degrees, jump " << i);
            const double expected = X[3 * i] * pull + X[3 * i + 1] * moment + X[3 * i + 2] * shear;
            CHECK_THAT(given[i], WithinRel(expected, 1e-6)); // rounding
        }
    }
}

TEST_CASE("a top whose walls run along x and y has no seams and no more nodes", "[solver][leaves]") {
    Piece piece = plain_piece(1000, 600, 30);
    piece.recesses.push_back(
        {"well", RectangleShape{.box = {120, 800, 100, 500}, .corner_radius = 25}, 16, 0, {}});
    const PlaneStiffness plane = plane_at(0);
    const Shell shell = make_shell(plane, thickness_field(piece, plane), {}, {}, {.size = even(100)});
    CHECK(shell.field.seams.empty());
    CHECK(shell.leaves.empty());
    CHECK(shell.stiffness.grid.n_nodes() == shell.stiffness.grid.n_grid_nodes());
}
