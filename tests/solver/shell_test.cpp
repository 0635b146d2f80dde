// SPDX-License-Identifier: MIT
// Patch tests, slender beams, rigid motions and rates of convergence of the shell.
//
// The plate of the rate tests: a x a, one orthotropic layer, hard simple supports (w, the turning along the
// edge and the movement of the middle along the edge held), pressure q0 sin(pi x/a) sin(pi y/a) downward.
// Exactly, about mid-thickness,
//     w = W sin sin,   bx = X cos sin,   by = Y sin cos    (sin sin = sin(pi x/a) sin(pi y/a), and so on)
// with (X, Y, W) from the three equations of equilibrium, s = pi/a:
//     (D11 + D66) s^2 + S1    (D12 + D66) s^2         S1 s               X        0
//     (D12 + D66) s^2         (D22 + D66) s^2 + S2    S2 s               Y   =    0
//     S1 s                    S2 s                    (S1 + S2) s^2      W       -q0
// (Mindlin 1951; Navier's method). The shell hangs from its top face, so u0 = t/2 bx, v0 = t/2 by.
#include "solver/model/model.hpp"
#include "solver/model/rigid_motions.hpp"
#include "solver/shell/make_shell.hpp"
#include "solver/shell/movement_form.hpp"
#include "solver/shell/recovery.hpp"
#include "tests/solver/shell_for_tests.hpp"

#include <Eigen/Dense>
#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Elastic isotropic(double E, double nu) {
    const double G = E / (2 * (1 + nu));
    return {.E1 = E, .E2 = E, .nu12 = nu, .G12 = G, .G13 = G, .G23 = G, .density_kg_m3 = {}};
}
const Elastic wood{
    .E1 = 12000, .E2 = 700, .nu12 = 0.4, .G12 = 800, .G13 = 800, .G23 = 150, .density_kg_m3 = 680};

Shell shell_of(const Piece& piece, const Elastic& elastic, const MeshWishes& wishes,
               const std::vector<HeldLine>& held, const ShellOptions& options) {
    const PlaneStiffness plane = plane_stiffness(elastic, piece.top.grain_deg);
    return make_shell(plane, thickness_field(piece, plane, options.with_wall_compliance), wishes, held,
                      options);
}

/// Rectangle and inner lines of the patch tests of MacNeal and Harder, A proposed standard set of problems to
/// test finite element accuracy, 1985, a thousand times as large (so that it is millimetres); a tensor mesh
/// has no slanting inner sides.
Shell patch(int order, double reference_depth) {
    const MeshWishes wishes{
        .lines_x = {40, 180}, .lines_y = {20, 80}, .attractors_x = {}, .attractors_y = {}};
    return shell_of(plain_piece(240, 120, 1), isotropic(1e6, 0.25), wishes, {},
                    {.size = even(1000), .order = order, .reference_depth = reference_depth});
}

/// Solved with the field given on the rim only; how far the inside is from the field, against the field.
double patch_error(const Shell& shell, const std::vector<double>& field) {
    const std::vector<double> x =
        solve_shell(shell, std::vector<double>(field.size(), 0), rim_dofs(shell), field);
    return largest_difference(x, field) / largest_of(field);
}

/// A plate 1 mm thick and 240 mm long stretches some 1e5 times more stiffly than it bends, and that much of
/// sixteen digits goes.
constexpr double thin_plate = 1e-9;

double exponent(double size_ratio, double error_ratio) {
    return std::log(error_ratio) / std::log(size_ratio);
}

} // namespace

TEST_CASE("a patch in constant stretch is exact", "[solver][shell][patch][published]") {
    for (const int order : {2, 3, 4})
        for (const double depth : {0.0, 0.5}) {
            const Shell shell = patch(order, depth);
            const auto field = nodal_field(shell, [](Point p) {
                return std::array<double, 5>{0.001 * (p.x + p.y / 2), 0.001 * (p.y + p.x / 2), 0, 0, 0};
            });
            INFO("order " << order << ", reference " << depth);
            CHECK(patch_error(shell, field) < thin_plate);
            // MacNeal and Harder 1985: 1333 and 400 (from memory); E (1 + nu) 0.001 / (1 - nu^2) and G 0.001
            const StressSample stress = stress_of(shell, strain_mean(shell, {100, 50}), field);
            for (const auto& face : {stress.top, stress.bottom}) {
                CHECK_THAT(face[0], WithinRel(4000.0 / 3, 1e-10));
                CHECK_THAT(face[1], WithinRel(4000.0 / 3, 1e-10));
                CHECK_THAT(face[2], WithinRel(400, 1e-10));
            }
        }
}

TEST_CASE("a patch in constant bending is exact", "[solver][shell][patch][published]") {
    for (const int order : {2, 3, 4})
        for (const double depth : {0.0, 0.5}) {
            const Shell shell = patch(order, depth);
            // bent about its middle: the reference surface moves by its height above the middle
            const double z = 0.5 - depth;
            const auto field = nodal_field(shell, [&](Point p) {
                const double bx = -0.001 * (p.x + p.y / 2), by = -0.001 * (p.y + p.x / 2);
                return std::array<double, 5>{z * bx, z * by, 0.0005 * (p.x * p.x + p.x * p.y + p.y * p.y), bx,
                                             by};
            });
            INFO("order " << order << ", reference " << depth);
            CHECK(patch_error(shell, field) < thin_plate);
            // MacNeal and Harder 1985: moments 1.111e-7 and 3.333e-8, faces 0.667 and 0.200, for a plate a
            // thousandth the size (from memory); the curvature here is the same number a mm, so moments are
            // 1e9 and stresses 1e3 times theirs
            const auto moments = moments_at(shell, field, {100, 50});
            CHECK_THAT(moments[0], WithinRel(1000.0 / 9, 1e-9));
            CHECK_THAT(moments[1], WithinRel(1000.0 / 9, 1e-9));
            CHECK_THAT(moments[2], WithinRel(100.0 / 3, 1e-9));
            const StressSample stress = stress_of(shell, strain_mean(shell, {100, 50}), field);
            CHECK_THAT(stress.bottom[0], WithinRel(2000.0 / 3, 1e-9)); // curved up: the underside is pulled
            CHECK_THAT(stress.top[0], WithinRel(-2000.0 / 3, 1e-9));
            CHECK_THAT(stress.bottom[2], WithinRel(200, 1e-9));
        }
}

TEST_CASE("a patch in constant shear is exact", "[solver][shell][patch][published]") {
    // w linear, rotations held at zero everywhere; Q = 5/6 h G gamma, greatest stress 1.5 Q / h
    for (const int order : {2, 3, 4}) {
        const Shell shell =
            shell_of(plain_piece(240, 120, 20), wood,
                     {.lines_x = {40, 180}, .lines_y = {20, 80}, .attractors_x = {}, .attractors_y = {}}, {},
                     {.size = even(1000), .order = order});
        const auto field = nodal_field(shell, [](Point p) {
            return std::array<double, 5>{0, 0, 0.001 * p.x + 0.0005 * p.y, 0, 0};
        });
        std::vector<int> held = rim_dofs(shell);
        for (int dof = 0; dof < static_cast<int>(field.size()); ++dof)
            if (dof % dofs_per_node >= 3) held.push_back(dof);
        const std::vector<double> x = solve_shell(shell, std::vector<double>(field.size(), 0), held, field);
        CHECK(largest_difference(x, field) < 1e-12 * largest_of(field)); // no thin plate here: only rounding
        const StressSample stress = stress_of(shell, strain_mean(shell, {100, 50}), x);
        CHECK_THAT(stress.shear[0], WithinRel(1.0, 1e-10));
        CHECK_THAT(stress.shear[1], WithinRel(1.5 * 1.25 / 20, 1e-10));
    }
}

TEST_CASE("a slender cantilever of six cells gives the published movements", "[solver][shell][published]") {
    // MacNeal and Harder 1985, table 3, straight beam, regular elements (values from memory), a hundred times
    // as large: 600 long, 20 deep in the plane, 10 thick, E 1e7, nu 0.3, unit loads. Movements are a
    // hundredth, the twist a millionth of the table's.
    const HeldLine wall{.from = {0, 0},
                        .to = {0, 20},
                        .down = true,
                        .tilt = true,
                        .twist = true,
                        .along = true,
                        .across = true,
                        .level = 0.5};
    for (const int order : {3, 4}) {
        const Shell shell = shell_of(plain_piece(600, 20, 10), isotropic(1e7, 0.3), {}, {wall},
                                     {.size = even(100), .order = order, .reference_depth = 5});
        REQUIRE(shell.mesh.nx() == 6);
        REQUIRE(shell.mesh.ny() == 1);
        const auto n = static_cast<std::size_t>(shell.stiffness.grid.n_dofs());
        const std::vector<NodeShare> end = nodes_along_x_end(shell);
        const auto tip = [&](int loaded, double sign) {
            std::vector<double> forces(n, 0);
            for (const NodeShare& node : end)
                forces[static_cast<std::size_t>(node.node * dofs_per_node + loaded)] = sign * node.share;
            return solve_shell(shell, std::move(forces), {}, std::vector<double>(n, 0));
        };
        const auto at = [&](const std::vector<double>& x, std::size_t k, int c) {
            return x[static_cast<std::size_t>(end[k].node * dofs_per_node + c)];
        };
        const std::size_t middle = end.size() / 2;
        INFO("order " << order);
        // tolerances of the reference: the held end also stops the side strain, which the table's beam theory
        // leaves free
        CHECK_THAT(at(tip(0, 1), middle, 0), WithinRel(3e-5 / 100, 0.005));
        CHECK_THAT(at(tip(1, 1), middle, 1), WithinRel(0.1081 / 100, 0.01));
        CHECK_THAT(at(tip(2, 1), middle, 2), WithinRel(0.4321 / 100, 0.01));
        const std::vector<double> twisted = tip(4, -1); // turning about x by +1 moves the top face towards -y
        const double angle = (at(twisted, end.size() - 1, 2) - at(twisted, 0, 2)) / 20;
        CHECK_THAT(angle,
                   WithinRel(0.03208e-6,
                             0.06)); // the table's torsion constant is another: 6 % as the reference allows
    }
}

TEST_CASE("a skin of 6 mm does not lock over 900 mm, whatever the shape of its cells", "[solver][shell]") {
    // Without side contraction the cantilever under a tip load is a cubic in x (Timoshenko): w = P L^3/(3 E
    // I) + P L/(5/6 G A), which order 3 holds exactly. Cells of 900 x 5 mm and of 9 x 60 mm alike.
    const Elastic strip{
        .E1 = 11000, .E2 = 11000, .nu12 = 0, .G12 = 5500, .G13 = 700, .G23 = 700, .density_kg_m3 = {}};
    const double L = 900, t = 6;
    for (const auto& [width, size] : {std::pair{5.0, 900.0}, {60.0, 300.0}, {60.0, 90.0}, {900.0, 100.0}})
        for (const int order : {3, 4})
            for (const double depth : {0.0, 3.0}) {
                const HeldLine wall{.from = {0, 0},
                                    .to = {0, width},
                                    .down = true,
                                    .tilt = true,
                                    .twist = true,
                                    .along = true,
                                    .across = true,
                                    .level = 0.5};
                const Shell shell = shell_of(plain_piece(L, width, t), strip, {}, {wall},
                                             {.size = even(size), .order = order, .reference_depth = depth});
                const auto n = static_cast<std::size_t>(shell.stiffness.grid.n_dofs());
                std::vector<double> forces(n, 0);
                const std::vector<NodeShare> end = nodes_along_x_end(shell);
                for (const NodeShare& node : end)
                    forces[static_cast<std::size_t>(node.node * dofs_per_node + 2)] = -node.share;
                const std::vector<double> x = solve_shell(shell, forces, {}, std::vector<double>(n, 0));
                const double exact =
                    L * L * L / (3 * 11000 * width * t * t * t / 12) + L / (5.0 / 6 * 700 * width * t);
                INFO("width " << width << ", cells of " << size << ", order " << order << ", reference "
                              << depth);
                // (L/t)^2 is 2e4 and enters the conditioning about twice: some nine of sixteen digits are
                // left
                CHECK_THAT(-x[static_cast<std::size_t>(end[0].node * dofs_per_node + 2)],
                           WithinRel(exact, 1e-7));
            }
}

TEST_CASE("rigid motions cost nothing, over steps, cut cells, softened walls and held levels",
          "[solver][shell]") {
    Piece piece = plain_piece(1000, 600, 30);
    piece.top.grain_deg = 25;
    const Recess recess{.name = "well",
                        .shape = RectangleShape{.box = {180, 800, 130, 470}, .corner_radius = 25},
                        .depth = 21,
                        .root_radius = 0,
                        .lands = {}};
    piece.recesses.push_back(recess);
    Piece oval = piece;
    oval.top.outline = EllipseShape{{0, 1000, 0, 600}};
    const HeldLine line{.from = {200, 0}, .to = {200, 600}, .across = true, .level = 1};
    for (const Piece* each : {&piece, &oval})
        for (const int order : {3, 4})
            for (const double depth : {0.0, 15.0}) {
                Shell shell = shell_of(
                    *each, wood, {.lines_x = {200}, .lines_y = {}, .attractors_x = {}, .attractors_y = {}},
                    each == &piece ? std::vector<HeldLine>{line} : std::vector<HeldLine>{},
                    {.size = even(130), .order = order, .reference_depth = depth});
                shell.stiffness.held.clear(); // the line is there for its levels only: nothing holds the top
                double stiffest = 0;
                for (const std::vector<double>& matrix : shell.stiffness.classes)
                    stiffest = std::max(stiffest, largest_of(matrix));
                const auto rigid = free_rigid_motions(shell);
                REQUIRE(rigid.size() == 6);
                for (const std::vector<double>& motion : rigid) {
                    std::vector<double> force(motion.size());
                    multiply(shell.stiffness, motion, force);
                    // a sum of a few hundred products of the size of stiffest x motion, rounded
                    CHECK(largest_of(force) < 1e-12 * stiffest * largest_of(motion));
                }
            }
}

TEST_CASE("the error falls with the cells as fast as the order promises", "[solver][shell][rate]") {
    // energy: h^p; movement in the mean square: h^(p+1)
    const double a = 600, t = 60, q0 = 0.01;
    const PlaneStiffness plane = plane_stiffness(wood, 0);
    const double s = std::numbers::pi / a, I = t * t * t / 12;
    const double D11 = plane.Q[0] * I, D12 = plane.Q[1] * I, D22 = plane.Q[4] * I, D66 = plane.Q[8] * I;
    const double S1 = 5.0 / 6 * t * plane.G[0], S2 = 5.0 / 6 * t * plane.G[3];
    Eigen::Matrix3d balance;
    balance << (D11 + D66) * s * s + S1, (D12 + D66) * s * s, S1 * s, (D12 + D66) * s * s,
        (D22 + D66) * s * s + S2, S2 * s, S1 * s, S2 * s, (S1 + S2) * s * s;
    const Eigen::Vector3d amplitude = balance.ldlt().solve(Eigen::Vector3d(0, 0, -q0));
    const double W = amplitude[2], exact_work = -q0 * W * a * a / 4; // integral of -q w, w < 0
    const auto bump = [&](double x, double y) { return std::sin(s * x) * std::sin(s * y); };
    std::vector<HeldLine> sides;
    for (const auto& [from, to] :
         {std::pair{Point{0, 0}, Point{a, 0}}, {{0, a}, {a, a}}, {{0, 0}, {0, a}}, {{a, 0}, {a, a}}})
        sides.push_back({.from = from, .to = to, .down = true, .twist = true, .along = true, .level = 0.5});

    struct Errors {
        double energy, mean;
    };
    const auto errors_of = [&](int order, int cells) {
        const Shell shell =
            shell_of(plain_piece(a, a, t), wood, {}, sides, {.size = even(a / cells), .order = order});
        REQUIRE(shell.mesh.nx() == cells);
        REQUIRE(shell.mesh.ny() == cells);
        const auto n = static_cast<std::size_t>(shell.stiffness.grid.n_dofs());
        std::vector<double> forces(n, 0);
        BasisAt basis;
        const auto over = [&](const auto& visit) {
            for (int c = 0; c < cells * cells; ++c)
                for (const QuadraturePoint& q :
                     cell_points(shell.field, shell.mesh.cells[static_cast<std::size_t>(c)], order + 4)) {
                    basis_at(shell.mesh.cells[static_cast<std::size_t>(c)], order, q.x, q.y, basis);
                    visit(q, cell_dofs(shell, c));
                }
        };
        over([&](const QuadraturePoint& q, const std::vector<int>& dofs) {
            for (std::size_t k = 0; k < basis.value.size(); ++k)
                forces[static_cast<std::size_t>(dofs[k * dofs_per_node + 2])] -=
                    q.weight * q0 * bump(q.x, q.y) * basis.value[k];
        });
        const std::vector<double> x = solve_shell(shell, forces, {}, std::vector<double>(n, 0));
        double work = 0, square = 0;
        for (std::size_t i = 0; i < n; ++i) work += forces[i] * x[i];
        over([&](const QuadraturePoint& q, const std::vector<int>& dofs) {
            double w = 0;
            for (std::size_t k = 0; k < basis.value.size(); ++k)
                w += basis.value[k] * x[static_cast<std::size_t>(dofs[k * dofs_per_node + 2])];
            square += q.weight * std::pow(w - W * bump(q.x, q.y), 2);
        });
        // Galerkin: the energy of the error is what the work lacks
        return Errors{std::sqrt((exact_work - work) / exact_work), std::sqrt(square) / (std::abs(W) * a / 2)};
    };
    for (const auto& [order, coarse, fine] : {std::tuple{2, 8, 16}, {3, 4, 8}, {4, 3, 6}}) {
        const Errors large = errors_of(order, coarse), small = errors_of(order, fine);
        INFO("order " << order << ": energy " << large.energy << " -> " << small.energy << ", mean "
                      << large.mean << " -> " << small.mean);
        CHECK_THAT(exponent(static_cast<double>(fine) / coarse, large.energy / small.energy),
                   WithinAbs(order, 0.2));
        CHECK_THAT(exponent(static_cast<double>(fine) / coarse, large.mean / small.mean),
                   WithinAbs(order + 1, 0.2));
    }
}

TEST_CASE("a held line is a mesh line, and its dofs are held at its level", "[solver][shell]") {
    const HeldLine line{
        .from = {333, 100}, .to = {333, 500}, .down = true, .across = true, .level = 1, .support = 7};
    const Shell shell =
        shell_of(plain_piece(1000, 600, 30), wood,
                 {.lines_x = {333}, .lines_y = {100, 500}, .attractors_x = {}, .attractors_y = {}}, {line},
                 {.size = even(130), .order = 3});
    CHECK(shell.held_points.empty());
    REQUIRE_FALSE(shell.held_dof_support.empty());
    for (const auto& [dof, support] : shell.held_dof_support) {
        const Point p = shell.node_point(dof / dofs_per_node);
        CHECK(support == 7);
        CHECK_THAT(p.x, WithinAbs(333, 1e-9));
        CHECK(p.y >= 100 - 1e-9);
        CHECK(p.y <= 500 + 1e-9);
        CHECK((dof % dofs_per_node == 2 || dof % dofs_per_node == 0)); // across a line along y is x
        CHECK(shell.levels.at(dof / dofs_per_node).zu == -30);
    }
}

TEST_CASE("a slanting held line is held by springs whose lengths add up", "[solver][shell]") {
    const HeldLine line{.from = {100, 100}, .to = {700, 500}, .down = true, .support = 2};
    const Shell shell =
        shell_of(plain_piece(1000, 600, 30), wood, {}, {line}, {.size = even(130), .order = 3});
    CHECK(shell.held_dof_support.empty());
    double total = 0;
    Point middle{};
    for (const HeldPoint& point : shell.held_points) {
        CHECK(point.support == 2);
        CHECK(point.row == std::array<double, 5>{0, 0, 1, 0, 0});
        CHECK(point.cell == cell_at(shell, point.at));
        total += point.stiffness;
        middle.x += point.stiffness * point.at.x;
        middle.y += point.stiffness * point.at.y;
    }
    // spread evenly: the springs' middle is the line's
    CHECK_THAT(middle.x / total, WithinRel(400, 1e-12));
    CHECK_THAT(middle.y / total, WithinRel(300, 1e-12));
}

TEST_CASE("a point is found in the cell that holds it, on the top only", "[solver][shell]") {
    Piece piece = plain_piece(1000, 600, 30);
    piece.top.outline = EllipseShape{{0, 1000, 0, 600}};
    const Shell shell = shell_of(piece, wood, {}, {}, {.size = even(60), .order = 3});
    CHECK(cell_at(shell, {5, 5}) == -1);
    const int cell = cell_at(shell, {501, 299});
    REQUIRE(cell >= 0);
    const Cell& found = shell.mesh.cells[static_cast<std::size_t>(cell)];
    CHECK(found.x0 <= 501);
    CHECK(found.x1 >= 501);
    CHECK(found.y0 <= 299);
    CHECK(found.y1 >= 299);
    CHECK(cell_at(shell, {1000, 300}) >= 0); // the last line belongs to the last cell
}

TEST_CASE("a unit force at a point does unit work on a unit movement", "[solver][shell]") {
    const Shell shell = shell_of(plain_piece(1000, 600, 30), wood, {}, {}, {.size = even(130), .order = 4});
    // a quartic is within the elements' reach
    const auto w = [](Point p) {
        return 1 + p.x / 500 - std::pow(p.y / 600, 4) + std::pow(p.x * p.y / 600000, 2);
    };
    const auto dofs = nodal_field(shell, [&](Point p) { return std::array<double, 5>{0, 0, w(p), 0, 0}; });
    SparseColumns columns;
    for (const Point p : {Point{0, 0}, {333, 555}, {999, 1}, {1000, 600}}) {
        append_point_force(shell, p, columns);
        CHECK_THAT(at_points(columns, dofs).back(),
                   WithinAbs(w(p), 1e-11)); // rounding of values of order one
        CHECK_THAT(movement_at(shell, dofs, p), WithinAbs(w(p), 1e-11));
    }
}

TEST_CASE("the mass of a rigid motion is the top's own", "[solver][shell]") {
    Piece piece = plain_piece(1000, 600, 30);
    piece.recesses.push_back({.name = "well",
                              .shape = RectangleShape{.box = {200, 800, 150, 450}, .corner_radius = 30},
                              .depth = 18,
                              .root_radius = 0,
                              .lands = {}});
    const double volume = 1000.0 * 600 * 30 - 18 * (600.0 * 300 - (4 - std::numbers::pi) * 900);
    const double kg = 680e-9 * volume;
    for (const double depth : {0.0, 15.0}) {
        const Shell shell =
            shell_of(piece, wood, {}, {}, {.size = even(150), .order = 3, .reference_depth = depth});
        const MassOperator mass(shell);
        const auto energy = [&](const std::array<double, 5>& motion) {
            const auto x = nodal_field(shell, [&](Point) { return motion; });
            std::vector<double> y(x.size());
            mass.apply(x, y);
            double sum = 0;
            for (std::size_t i = 0; i < x.size(); ++i) sum += x[i] * y[i];
            return sum;
        };
        for (const auto& motion : {std::array<double, 5>{1, 0, 0, 0, 0}, {0, 1, 0, 0, 0}, {0, 0, 1, 0, 0}})
            CHECK_THAT(energy(motion), WithinRel(kg, 1e-8)); // the promise of cut cells (mesh_test.cpp)
        // turning every section by one: the second moment of the mass about the reference surface
        const double skin = 600.0 * 300 - (4 - std::numbers::pi) * 900, rim = 600000 - skin;
        const auto second = [&](double h) { return (std::pow(depth, 3) - std::pow(depth - h, 3)) / 3; };
        CHECK_THAT(energy({0, 0, 0, 1, 0}), WithinRel(680e-9 * (rim * second(30) + skin * second(12)), 1e-8));
    }
}
