// SPDX-License-Identifier: MIT
#include "solver/readout/stress_jump.hpp"

#include "solver/shell/make_shell.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <functional>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// 1000 x 600 x 30 in cells of 100 x 100, where no edge asks for other lines.
Shell even_shell(const Piece& piece) {
    const PlaneStiffness plane = plane_of(piece);
    return make_shell(plane, thickness_field(piece, plane, false), {}, {},
                      {.size = even(100), .order = 3, .with_wall_compliance = false});
}

std::vector<double> field_of(const Shell& shell, const std::function<std::array<double, 5>(Point)>& of) {
    std::vector<double> dofs(static_cast<size_t>(shell.stiffness.grid.n_dofs()));
    for (int n = 0; n < shell.nodes_x() * shell.stiffness.grid.nodes_y(); ++n) {
        const std::array<double, 5> values = of(shell.node_point(n));
        for (size_t c = 0; c < values.size(); ++c)
            dofs[static_cast<size_t>(n * dofs_per_node) + c] = values[c];
    }
    return dofs;
}

} // namespace

TEST_CASE("what one polynomial says of the whole top does not jump from cell to cell",
          "[solver][stress_jump]") {
    const Shell shell = even_shell(invented_top());
    const std::vector<double> dofs = field_of(shell, [](Point p) {
        const double x = p.x / 1000, y = p.y / 600;
        return std::array<double, 5>{x * x * y, y * y, x * y * y, x * x, x * y};
    });
    const StressSample jump = stress_jump(shell, jump_points(shell, {430, 270}), dofs);
    const double scale = 30 * shell.plane.Q[0] / 1000; // face stress of a turn of one over the length
    // the points stand a millionth of the thickness off the line, on either side
    for (const double value : jump.bottom) CHECK_THAT(value, WithinAbs(0, 1e-6 * scale));
    for (const double value : jump.shear) CHECK_THAT(value, WithinAbs(0, 1e-6 * scale));
}

TEST_CASE("a turn that reverses on a line of the mesh jumps there by twice its stress",
          "[solver][stress_jump]") {
    // bx = c |x - 500|: curvature -c before the line and c after it, so that of Q z k the underside, z = -h, has
    // c h Q11 on one side and as much of the other sign on the other
    const Shell shell = even_shell(invented_top());
    constexpr double c = 1e-6;
    const std::vector<double> dofs = field_of(shell, [](Point p) {
        return std::array<double, 5>{0, 0, 0, c * std::abs(p.x - 500), 0};
    });
    const double jumps = 2 * c * 30 * shell.plane.Q[0];
    CHECK_THAT(stress_jump(shell, jump_points(shell, {520, 250}), dofs).bottom[0], WithinRel(jumps, 1e-9));
    CHECK_THAT(stress_jump(shell, jump_points(shell, {460, 250}), dofs).bottom[0], WithinRel(jumps, 1e-9));
    // two cells away nothing of it is seen
    CHECK_THAT(stress_jump(shell, jump_points(shell, {750, 250}), dofs).bottom[0],
               WithinAbs(0, 1e-9 * jumps));
    CHECK_THAT(stress_jump(shell, jump_points(shell, {520, 250}), dofs).top[0], WithinAbs(0, 1e-9 * jumps));
}

TEST_CASE("a wall is no jump: the thickness differs, not the mesh", "[solver][stress_jump]") {
    Piece piece = invented_top();
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {150, 850, 120, 480}, .corner_radius = 0},
                       .depth = 15,
                       .root_radius = 0,
                       .lands = {}}};
    const Shell shell = even_shell(piece);
    // even curvature: in thick and thin wood the underside's stress differs by that of their depths
    const std::vector<double> dofs = field_of(shell, [](Point p) {
        return std::array<double, 5>{0, 0, 0, 1e-6 * p.x, 0};
    });
    const StressSample jump = stress_jump(shell, jump_points(shell, {155, 300}), dofs);
    CHECK_THAT(jump.bottom[0], WithinAbs(0, 1e-9 * 1e-6 * 30 * shell.plane.Q[0]));
}
