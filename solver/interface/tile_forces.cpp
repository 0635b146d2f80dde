// SPDX-License-Identifier: MIT
#include "solver/interface/tile_forces.hpp"

#include "solver/interface/levels.hpp"
#include "solver/numeric/quadrature.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace hollowtop {

std::vector<QuadraturePoint> tile_points(const Shell& shell, const ContactPoint& tile) {
    std::vector<QuadraturePoint> points;
    const Point at{tile.at.x + tile.to_middle.x, tile.at.y + tile.to_middle.y};
    if (tile.level != any_level) {
        for (const Point& p : level_samples(at, tile.axis, tile.half_along, tile.half_across))
            if (std::max(region_at(shell.field, p), full_thickness) == tile.level)
                points.push_back({.x = p.x, .y = p.y, .weight = 1});
        for (QuadraturePoint& q : points) q.weight = tile.area / static_cast<double>(points.size());
        return points;
    }
    const bool leans = tile.lean_along != 0 || tile.lean_across != 0,
               is_square = std::abs(tile.axis.x * tile.axis.y) < 1e-12;
    // cut at the mesh lines where it is square to them; slanting: evenly
    std::vector<double> ps{-tile.half_along, tile.half_along}, qs{-tile.half_across, tile.half_across};
    if (is_square) {
        const auto cut = [&](const std::vector<double>& lines, double middle, std::vector<double>& places,
                             double half, double sign) {
            for (const double line : lines)
                if (std::abs(line - middle) < half) places.push_back(sign * (line - middle));
        };
        const bool along_x = std::abs(tile.axis.x) > 0.5;
        const double way = along_x ? tile.axis.x : tile.axis.y;
        cut(shell.mesh.xs, at.x, along_x ? ps : qs, along_x ? tile.half_along : tile.half_across,
            along_x ? way : -way);
        cut(shell.mesh.ys, at.y, along_x ? qs : ps, along_x ? tile.half_across : tile.half_along, way);
    } else {
        constexpr double longest = 30;
        const auto cut = [](std::vector<double>& places, double half) {
            const int n = static_cast<int>(std::ceil(2 * half / longest));
            for (int k = 1; k < n; ++k) places.push_back(half * (2.0 * k / n - 1));
        };
        cut(ps, tile.half_along);
        cut(qs, tile.half_across);
    }
    std::sort(ps.begin(), ps.end());
    std::sort(qs.begin(), qs.end());
    const Rule& rule = gauss_rule(!is_square ? 4 : leans ? (shell.order + 1) / 2 + 1 : shell.order / 2 + 1);
    const double share = leans ? tile.area / (4 * tile.half_along * tile.half_across) : 1;
    for (size_t i = 0; i + 1 < ps.size(); ++i)
        for (size_t j = 0; j + 1 < qs.size(); ++j)
            for (size_t a = 0; a < rule.points.size(); ++a)
                for (size_t b = 0; b < rule.points.size(); ++b) {
                    const double p = ps[i] + (ps[i + 1] - ps[i]) * (1 + rule.points[a]) / 2,
                                 q = qs[j] + (qs[j + 1] - qs[j]) * (1 + rule.points[b]) / 2;
                    const double weight =
                        rule.weights[a] * rule.weights[b] / 4 * (ps[i + 1] - ps[i]) * (qs[j + 1] - qs[j]);
                    points.push_back({.x = at.x + p * tile.axis.x - q * tile.axis.y,
                                      .y = at.y + p * tile.axis.y + q * tile.axis.x,
                                      .weight = share * weight * (1 + tile.lean_along * p / tile.half_along) *
                                                (1 + tile.lean_across * q / tile.half_across)});
                }
    return points;
}

namespace {

/// A unit force spread over the tile: `force` on u, v, w, bx, by about the reference surface.
void append_spread(const Shell& shell, const ContactPoint& tile,
                   const std::array<double, dofs_per_node>& force, SparseColumns& columns) {
    std::map<int, double> share; // of each node
    const std::vector<QuadraturePoint> points = tile_points(shell, tile);
    double area = 0;
    for (const QuadraturePoint& q : points)
        if (cell_at(shell, {q.x, q.y}) >= 0) area += q.weight;
    BasisAt basis;
    for (const QuadraturePoint& q : points) {
        const int cell = cell_at(shell, {q.x, q.y});
        if (cell < 0) continue;
        basis_at(shell.mesh.cells[static_cast<size_t>(cell)], shell.order, q.x, q.y, basis);
        const CellNodes nodes = cell_nodes(shell, cell, leaf_index_at(shell, cell, {q.x, q.y}));
        for (int b = 0; b <= shell.order; ++b)
            for (int a = 0; a <= shell.order; ++a)
                share[nodes(a, b)] +=
                    q.weight / area * basis.value[static_cast<size_t>(b * (shell.order + 1) + a)];
    }
    for (const auto& [node, value] : share) {
        if (value == 0) continue;
        const auto level = shell.levels.find(node); // u and v of a held node are meant at its own height
        const NodeLevel held = level == shell.levels.end() ? NodeLevel{} : level->second;
        const std::array<double, dofs_per_node> at_node{
            force[0], force[1], force[2], force[3] - held.zu * force[0], force[4] - held.zv * force[1]};
        for (int c = 0; c < dofs_per_node; ++c) {
            if (at_node[static_cast<size_t>(c)] == 0) continue;
            columns.dof.push_back(node * dofs_per_node + c);
            columns.value.push_back(value * at_node[static_cast<size_t>(c)]);
        }
    }
    columns.start.push_back(static_cast<int>(columns.dof.size()));
}

} // namespace

void append_tile_force(const Shell& shell, const ContactPoint& tile, SparseColumns& columns) {
    if (tile.half_along <= 0)
        append_point_force(shell, tile.at, columns);
    else
        append_tile_force(shell, tile, {0, 0, 1}, 0, columns);
}

void append_tile_force(const Shell& shell, const ContactPoint& tile, const std::array<double, 3>& direction,
                       double z, SparseColumns& columns) {
    const double height = z + shell.reference_depth;
    append_spread(shell, tile,
                  {direction[0], direction[1], direction[2], height * direction[0], height * direction[1]},
                  columns);
}

void append_tile_turn(const Shell& shell, const ContactPoint& tile, Point direction, SparseColumns& columns) {
    append_spread(shell, tile, {0, 0, 0, direction.x, direction.y}, columns);
}

} // namespace hollowtop
