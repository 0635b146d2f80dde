// SPDX-License-Identifier: MIT
#include "solver/shell/shell.hpp"

#include "solver/numeric/quadrature.hpp"
#include "solver/piece/skin.hpp"
#include "solver/section/solid_stiffness.hpp"
#include "solver/section/top_material.hpp"
#include "solver/shell/cell_key.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <tuple>

namespace hollowtop {

Point Shell::node_point(int node) const {
    const int nx = nodes_x(), at = stiffness.grid.place_of(node), ix = at % nx, iy = at / nx;
    const std::vector<double>& points = lobatto_rule(order + 1).points;
    const auto place = [&](const std::vector<double>& lines, int index) {
        const int cell = std::min(index / order, static_cast<int>(lines.size()) - 2);
        const double low = lines[static_cast<size_t>(cell)], high = lines[static_cast<size_t>(cell) + 1];
        return low + (high - low) * (1 + points[static_cast<size_t>(index - cell * order)]) / 2;
    };
    return {place(mesh.xs, ix), place(mesh.ys, iy)};
}

Elastic elastic_of(const Piece& piece) {
    if (const std::optional<Elastic> stated = stated_elastic(piece.top)) return *stated;
    const materials::WoodConstants wood = wood_constants_of(piece.top);
    const materials::PlaneConstants p = materials::turned_by_rings(wood, piece.top.ring_angle_deg);
    return {.E1 = p.E1,
            .E2 = p.E2,
            .nu12 = p.nu12,
            .G12 = p.G12,
            .G13 = p.G13,
            .G23 = p.G23,
            .density_kg_m3 = wood.density_kg_m3};
}

PlaneStiffness plane_of(const Piece& piece) {
    PlaneStiffness plane = plane_stiffness(elastic_of(piece), piece.top.grain_deg);
    if (const std::optional<Elastic> stated = stated_elastic(piece.top)) {
        plane.solid = solid_stiffness(*stated);
    } else {
        plane.solid = solid_stiffness(wood_constants_of(piece.top), piece.top.ring_angle_deg);
    }
    return plane;
}

std::vector<int> cell_dofs(const Shell& shell, int cell) {
    const int i = cell % shell.mesh.nx(), j = cell / shell.mesh.nx(), p = shell.order;
    const CellGrid& grid = shell.stiffness.grid;
    std::vector<int> dofs;
    dofs.reserve(static_cast<size_t>(grid.element_size(cell)));
    if (grid.has_own_nodes(cell)) {
        for (const int node : grid.cell_nodes[static_cast<size_t>(cell)])
            for (int c = 0; c < dofs_per_node; ++c) dofs.push_back(node * dofs_per_node + c);
        return dofs;
    }
    for (int b = 0; b <= p; ++b)
        for (int a = 0; a <= p; ++a)
            for (int c = 0; c < dofs_per_node; ++c)
                dofs.push_back(shell.node(i * p + a, j * p + b) * dofs_per_node + c);
    return dofs;
}

int leaf_index_at(const Shell& shell, int cell, Point point) {
    if (!shell.stiffness.grid.has_own_nodes(cell)) return -1;
    const std::vector<CellLeaf>& leaves = shell.leaves[static_cast<size_t>(cell)];
    if (leaves.size() == 1) return 0;
    const int leaf = leaf_at(shell.field, point);
    for (size_t k = 0; k < leaves.size(); ++k)
        if (leaves[k].leaf == leaf) return static_cast<int>(k);
    return 0; // off the top
}

CellNodes cell_nodes(const Shell& shell, int cell, int leaf_index) {
    const int i = cell % shell.mesh.nx(), j = cell / shell.mesh.nx(), p = shell.order;
    CellNodes nodes{.first = shell.node(i * p, j * p), .stride = shell.nodes_x(), .n = p + 1};
    if (leaf_index >= 0)
        nodes.list = shell.leaves[static_cast<size_t>(cell)][static_cast<size_t>(leaf_index)].nodes.data();
    return nodes;
}

void basis_at(const Shell& shell, int cell, Point point, BasisAt& basis) {
    basis_at(shell.mesh.cells[static_cast<size_t>(cell)], shell.order, point.x, point.y, basis);
    const int index = leaf_index_at(shell, cell, point);
    if (index < 0) return;
    const std::vector<int>& local = shell.leaves[static_cast<size_t>(cell)][static_cast<size_t>(index)].local;
    const auto count = static_cast<size_t>(shell.stiffness.grid.element_nodes(cell));
    for (std::vector<double>* values : {&basis.value, &basis.dx, &basis.dy}) {
        std::vector<double> own(count, 0);
        for (size_t k = 0; k < local.size(); ++k) own[static_cast<size_t>(local[k])] += (*values)[k];
        *values = std::move(own);
    }
}

std::vector<QuadraturePoint> points_of_leaf(const Shell& shell, int cell, int leaf_index) {
    std::vector<QuadraturePoint> points = shell.cut_points[static_cast<size_t>(cell)];
    for (QuadraturePoint& q : points)
        if (leaf_index_at(shell, cell, {q.x, q.y}) != leaf_index) q.place = {.region = outside};
    return points;
}

int cell_at(const Shell& shell, Point point) {
    const Mesh& mesh = shell.mesh;
    const int i = interval_of(mesh.xs, point.x), j = interval_of(mesh.ys, point.y);
    if (mesh.cell(i, j).active) return j * mesh.nx() + i;
    // on a mesh line the active cell may be the one before
    const int i2 = point.x - mesh.xs[static_cast<size_t>(i)] < 1e-9 ? std::max(i - 1, 0) : i;
    const int j2 = point.y - mesh.ys[static_cast<size_t>(j)] < 1e-9 ? std::max(j - 1, 0) : j;
    for (const auto& [a, b] : {std::pair{i2, j}, std::pair{i, j2}, std::pair{i2, j2}})
        if (mesh.cell(a, b).active) return b * mesh.nx() + a;
    return -1;
}

void to_reference_surface(const Shell& shell, std::span<double> dofs) {
    for (const auto& [node, level] : shell.levels) {
        const auto base = static_cast<size_t>(node * dofs_per_node);
        dofs[base] -= level.zu * dofs[base + 3];
        dofs[base + 1] -= level.zv * dofs[base + 4];
    }
}

void append_point_force(const Shell& shell, Point point, SparseColumns& columns) {
    const int cell = cell_at(shell, point);
    if (cell >= 0) {
        BasisAt basis;
        basis_at(shell, cell, point, basis);
        const std::vector<int> dofs = cell_dofs(shell, cell);
        for (size_t a = 0; a < basis.value.size(); ++a) {
            if (std::abs(basis.value[a]) < 1e-14) continue;
            columns.dof.push_back(dofs[a * dofs_per_node + 2]);
            columns.value.push_back(basis.value[a]);
        }
    }
    columns.start.push_back(static_cast<int>(columns.dof.size()));
}

/// Of the shell's places; null of one that is even.
UnevenOf uneven_of_shell(const Shell& shell) {
    if (shell.uneven.empty()) return {};
    return [&shell](const SectionRegion& place) {
        const auto found = shell.uneven.find(place);
        return found == shell.uneven.end() ? nullptr : &found->second;
    };
}

MassOperator::MassOperator(const Shell& shell) : shell_(&shell) {
    const SectionOf section_of = [&](SectionRegion place) -> const Section& {
        return shell.sections.at(place);
    };
    const UnevenOf uneven_of = uneven_of_shell(shell);
    std::map<CellKey, int> known;
    std::map<std::array<double, 3>, int> numbers; // by mass
    for (size_t c = 0; c < shell.mesh.cells.size(); ++c) {
        const Cell& cell = shell.mesh.cells[c];
        if (!cell.active) continue;
        const auto index = static_cast<int>(c);
        if (is_split_by_seams(shell.mesh, index)) {
            for (int k = 0; k < static_cast<int>(shell.leaves[c].size()); ++k) {
                nodes_.push_back(cell_nodes(shell, index, k));
                class_of_.push_back(static_cast<int>(classes_.size()));
                classes_.push_back(
                    element_mass(cell, shell.order, points_of_leaf(shell, index, k), section_of, uneven_of));
            }
            continue;
        }
        nodes_.push_back(cell_nodes(shell, index, shell.stiffness.grid.has_own_nodes(index) ? 0 : -1));
        const bool alone = cell.cut || cell.uneven;
        CellKey key{};
        if (!alone) {
            const auto next = static_cast<int>(numbers.size());
            key = key_of(cell, numbers.try_emplace(section_of(cell.place).mass, next).first->second);
        }
        const auto found = alone ? known.end() : known.find(key);
        if (found != known.end()) {
            class_of_.push_back(found->second);
            continue;
        }
        if (!alone) known.emplace(key, static_cast<int>(classes_.size()));
        class_of_.push_back(static_cast<int>(classes_.size()));
        classes_.push_back(element_mass(cell, shell.order, shell.cut_points[c], section_of, uneven_of));
    }
}

void MassOperator::apply(std::span<const double> x, std::span<double> y, int count) const {
    const auto columns = static_cast<size_t>(count), n = x.size() / columns;
    std::vector<double> moved(x.begin(), x.end());
    for (size_t q = 0; q < columns; ++q) to_reference_surface(*shell_, {moved.data() + q * n, n});
    std::fill(y.begin(), y.end(), 0.0);
    std::vector<double> in, out;
    const int n1 = shell_->order + 1;
    const size_t size = static_cast<size_t>(n1 * n1) * dofs_per_node;
    for (size_t k = 0; k < nodes_.size(); ++k) {
        in.resize(size * columns);
        out.assign(size * columns, 0);
        const auto each = [&](const auto& see) { // (local, global) places of the same number
            size_t local = 0;
            for (int b = 0; b < n1; ++b)
                for (int a = 0; a < n1; ++a) {
                    const auto first = static_cast<size_t>(nodes_[k](a, b)) * dofs_per_node;
                    for (size_t q = 0; q < columns; ++q)
                        for (size_t d = 0; d < dofs_per_node; ++d, ++local) see(local, q * n + first + d);
                }
        };
        each([&](size_t local, size_t global) { in[local] = moved[global]; });
        apply_mass(classes_[static_cast<size_t>(class_of_[k])], shell_->order, count, in, out);
        each([&](size_t local, size_t global) { y[global] += out[local]; });
    }
    // T' f at levelled nodes
    for (const auto& [node, level] : shell_->levels) {
        for (size_t q = 0; q < columns; ++q) {
            const size_t base = q * n + static_cast<size_t>(node * dofs_per_node);
            y[base + 3] -= level.zu * y[base];
            y[base + 4] -= level.zv * y[base + 1];
        }
    }
}

} // namespace hollowtop
