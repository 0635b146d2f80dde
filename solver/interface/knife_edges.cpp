// SPDX-License-Identifier: MIT
#include "solver/interface/knife_edges.hpp"

#include "solver/numeric/quadrature.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace hollowtop {
namespace {

bool is_pressing_knife_edge(const Support& support) {
    const auto* bearer = std::get_if<Bearer>(&support.kind);
    return bearer && bearer->width <= 0 && (!bearer->hold_down || bearer->stiffness);
}

/// Nodes on an axis-parallel knife edge with their shares of its length (Lobatto weights).
std::map<int, double> nodes_on_line(const Shell& shell, Point from, Point to) {
    std::map<int, double> shares;
    const bool along_x = runs_along_x(from, to);
    const std::vector<double>&lines = along_x ? shell.mesh.xs : shell.mesh.ys,
          &crossing = along_x ? shell.mesh.ys : shell.mesh.xs;
    const double position = along_x ? from.y : from.x;
    const double low = along_x ? std::min(from.x, to.x) : std::min(from.y, to.y);
    const double high = along_x ? std::max(from.x, to.x) : std::max(from.y, to.y);
    const auto nearest = std::min_element(crossing.begin(), crossing.end(), [&](double a, double b) {
        return std::abs(a - position) < std::abs(b - position);
    });
    const int fixed = static_cast<int>(nearest - crossing.begin()) * shell.order;
    const Rule& rule = lobatto_rule(shell.order + 1);
    for (size_t c = 0; c + 1 < lines.size(); ++c) {
        if (lines[c] < low - 1e-6 || lines[c + 1] > high + 1e-6) continue;
        const double middle_of_cell = (lines[c] + lines[c + 1]) / 2;
        const Point p = along_x ? Point{middle_of_cell, position} : Point{position, middle_of_cell};
        if (cell_at(shell, p) < 0) continue;
        for (size_t k = 0; k < rule.points.size(); ++k) {
            const int moving = static_cast<int>(c) * shell.order + static_cast<int>(k);
            const int node = along_x ? shell.node(moving, fixed) : shell.node(fixed, moving);
            shares[node] += rule.weights[k] / 2 * (lines[c + 1] - lines[c]);
        }
    }
    return shares;
}

} // namespace

std::vector<ContactPoint> knife_edge_points(const Piece& piece, const Shell& shell,
                                            double through_thickness_modulus) {
    constexpr double rigid = 1e3; // a knife edge gives a thousandth of what the wood's own compression would
    std::vector<ContactPoint> points;
    for (size_t i = 0; i < piece.supports.size(); ++i) {
        const Support& support = piece.supports[i];
        if (!is_pressing_knife_edge(support)) continue;
        const auto& bearer = std::get<Bearer>(support.kind);
        const double stiffness = bearer.stiffness.value_or(rigid * through_thickness_modulus);
        const auto add = [&](Point at, double share) {
            points.push_back({.support = static_cast<int>(i),
                              .at = at,
                              .compliance = 1 / (stiffness * share),
                              .area = share,
                              .two_sided = bearer.hold_down});
        };
        if (runs_along_x(bearer.from, bearer.to) || runs_along_y(bearer.from, bearer.to)) {
            for (const auto& [node, share] : nodes_on_line(shell, bearer.from, bearer.to))
                add(shell.node_point(node), share);
            continue;
        }
        const double length = std::hypot(bearer.to.x - bearer.from.x, bearer.to.y - bearer.from.y);
        // across the grid: narrow tiles end to end; a row of points would sink deeper the finer the mesh
        constexpr double half_width = 1;
        const int tiles = std::max(4, static_cast<int>(std::ceil(length / 30)));
        const double half_along = length / tiles / 2;
        const Point axis{(bearer.to.x - bearer.from.x) / length, (bearer.to.y - bearer.from.y) / length};
        for (int k = 0; k < tiles; ++k) {
            const double s = (2 * k + 1) * half_along;
            points.push_back({.support = static_cast<int>(i),
                              .at = {bearer.from.x + s * axis.x, bearer.from.y + s * axis.y},
                              .compliance = 1 / (stiffness * 2 * half_along),
                              .area = 4 * half_along * half_width,
                              .two_sided = bearer.hold_down,
                              .axis = axis,
                              .half_along = half_along,
                              .half_across = half_width});
        }
    }
    return points;
}

} // namespace hollowtop
