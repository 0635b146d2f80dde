// SPDX-License-Identifier: MIT
#pragma once
/// \file  Plain rectangular shells, nodal forces along an edge and a solve, for the tests of the shell.

#include "solver/numeric/quadrature.hpp"
#include "solver/shell/shell.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <span>
#include <vector>

namespace hollowtop {

inline Piece plain_piece(double length, double width, double thickness) {
    Piece piece;
    piece.top.length = length;
    piece.top.width = width;
    piece.top.thickness = thickness;
    piece.top.outline = RectangleShape{.box = {0, length, 0, width}};
    return piece;
}

/// Cells as near to `size` as the lines wished for allow.
inline MeshSize even(double size) {
    return {.largest = size, .at_walls = size, .at_edges = size, .growth = 0.6};
}

/// Solves K x = f with the dofs in `held` (besides the shell's own) at the values `x` comes with.
inline std::vector<double> solve_shell(const Shell& shell, std::vector<double> forces,
                                       const std::vector<int>& held, std::vector<double> x) {
    GridStiffness stiffness = shell.stiffness;
    std::vector<char> is_held(x.size(), 0);
    for (const int dof : stiffness.held) is_held[static_cast<std::size_t>(dof)] = 1;
    for (const int dof : held) is_held[static_cast<std::size_t>(dof)] = 1;
    stiffness.held.clear();
    for (std::size_t dof = 0; dof < x.size(); ++dof)
        if (!is_held[dof]) x[dof] = 0;
    std::vector<double> reaction(x.size());
    multiply(stiffness, x, reaction);
    for (std::size_t dof = 0; dof < x.size(); ++dof) forces[dof] -= reaction[dof];
    for (std::size_t dof = 0; dof < x.size(); ++dof)
        if (is_held[dof]) stiffness.held.push_back(static_cast<int>(dof));
    const Factor factor(stiffness, 1);
    factor.solve(forces, 1);
    for (std::size_t dof = 0; dof < x.size(); ++dof) x[dof] += forces[dof];
    return x;
}

/// Nodes with x (or y) at a mesh line, and their shares of its length.
struct NodeShare {
    int node = 0;
    double share = 0;
};
inline std::vector<NodeShare> nodes_along_x_end(const Shell& shell) {
    std::vector<NodeShare> nodes;
    const Rule& rule = lobatto_rule(shell.order + 1);
    const std::vector<double>& ys = shell.mesh.ys;
    const int ix = shell.nodes_x() - 1;
    for (int iy = 0; iy < shell.stiffness.grid.nodes_y(); ++iy) nodes.push_back({shell.node(ix, iy), 0});
    for (std::size_t c = 0; c + 1 < ys.size(); ++c)
        for (std::size_t k = 0; k < rule.points.size(); ++k)
            nodes[c * static_cast<std::size_t>(shell.order) + k].share +=
                rule.weights[k] / 2 * (ys[c + 1] - ys[c]) / (ys.back() - ys.front());
    return nodes;
}

/// Every dof of the nodes on the four sides.
inline std::vector<int> rim_dofs(const Shell& shell) {
    std::vector<int> dofs;
    const int nx = shell.nodes_x(), ny = shell.stiffness.grid.nodes_y();
    for (int iy = 0; iy < ny; ++iy)
        for (int ix = 0; ix < nx; ++ix)
            if (ix == 0 || iy == 0 || ix == nx - 1 || iy == ny - 1)
                for (int c = 0; c < dofs_per_node; ++c)
                    dofs.push_back(shell.node(ix, iy) * dofs_per_node + c);
    return dofs;
}

/// Nodal values of a field u v w bx by given as a function of the place.
inline std::vector<double> nodal_field(const Shell& shell,
                                       const std::function<std::array<double, 5>(Point)>& field) {
    const int n_nodes = shell.nodes_x() * shell.stiffness.grid.nodes_y();
    std::vector<double> dofs;
    for (int node = 0; node < n_nodes; ++node)
        for (const double v : field(shell.node_point(node))) dofs.push_back(v);
    return dofs;
}

inline double largest_of(std::span<const double> values) {
    double most = 0;
    for (const double v : values) most = std::max(most, std::abs(v));
    return most;
}

inline double largest_difference(std::span<const double> a, std::span<const double> b) {
    double most = 0;
    for (std::size_t i = 0; i < a.size(); ++i) most = std::max(most, std::abs(a[i] - b[i]));
    return most;
}

} // namespace hollowtop
