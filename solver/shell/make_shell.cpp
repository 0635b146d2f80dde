// SPDX-License-Identifier: MIT
#include "solver/shell/make_shell.hpp"

#include "solver/numeric/quadrature.hpp"
#include "solver/piece/skin.hpp"
#include "solver/shell/cell_key.hpp"
#include "solver/shell/leaves.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>

namespace hollowtop {
namespace {

/// Numbers the sections of places, alike where all their numbers are to eleven digits: of equal recesses far apart the
/// widths of wall zones differ by rounding.
class SectionNumbers {
  public:
    /// `section_of` is asked once a place.
    int number_of(const SectionRegion& place, const SectionOf& section_of) {
        const auto [known, is_new] = by_place_.try_emplace(place);
        if (is_new) {
            const auto number = static_cast<int>(by_value_.size());
            known->second = by_value_.try_emplace(rounded(section_of(place)), number).first->second;
        }
        return known->second;
    }

  private:
    /// Stretch, bending and shear each as of a layer of unit thickness, against the greatest.
    static std::vector<long long> rounded(const Section& section) {
        std::vector<double> values;
        const auto power = [&](size_t i) { return i < 3 ? 1.0 : section.thickness; };
        for (size_t i = 0; i < 6; ++i)
            for (size_t j = 0; j < 6; ++j) values.push_back(section.C[6 * i + j] / (power(i) * power(j)));
        values.insert(values.end(), section.S.begin(), section.S.end());
        for (size_t i = 0; i < 6; ++i)
            for (size_t j = 0; j < 2; ++j) values.push_back(section.cross[2 * i + j] / power(i));
        double greatest = 1e-300;
        for (const double v : values) greatest = std::max(greatest, std::abs(v));
        std::vector<long long> key{std::llround(section.thickness * 1e9), std::llround(greatest * 1e6)};
        for (const double v : values) key.push_back(std::llround(v / greatest * 1e11));
        return key;
    }

    std::map<SectionRegion, int> by_place_{};
    std::map<std::vector<long long>, int> by_value_{};
};

/// Thickness at a node of a held line: the greatest of the four places that meet there.
double thickness_near(const ThicknessField& field, Point p) {
    const double step = 1e-4 * field.thickness;
    double thickness = 0;
    for (const double dx : {-step, step})
        for (const double dy : {-step, step})
            thickness =
                std::max(thickness, local_thickness(field, region_at(field, {p.x + dx, p.y + dy}), p));
    return thickness;
}

/// Its sections at three thicknesses, each of its board and with its wall.
UnevenSkin uneven_skin(const ThicknessField& field, const PlaneStiffness& plane, const SectionRegion& place,
                       double reference_depth) {
    const SkinGrid& grid = *grid_of(field, place.region);
    UnevenSkin skin{.middle = thickness_of(field, place.region),
                    .beside_wall = place.wall >= 0,
                    .sections = {},
                    .thickness = [kept = std::make_shared<const SkinGrid>(grid)](Point at) {
                        return thickness_in(*kept, at);
                    }};
    if (skin.beside_wall) {
        constexpr double least = 0.01; // nearer to each other, digits are lost
        const auto [low, high] = std::minmax_element(grid.thickness.begin(), grid.thickness.end());
        skin.spread = std::clamp(std::max(*high - skin.middle, skin.middle - *low) / skin.middle, least, 0.5);
    }
    for (size_t k = 0; k < skin.sections.size(); ++k)
        skin.sections[k] =
            section_at(field, plane, place, skin.middle * (1 + (static_cast<double>(k) - 1) * skin.spread),
                       reference_depth);
    return skin;
}

constexpr double straight_tolerance = 1e-7;

struct Holding {
    std::map<int, std::array<bool, 5>> nodes;
    std::map<int, int> support_of_node;
};

void hold_node(Shell& shell, Holding& holding, int node, const HeldLine& line, bool runs_along_x) {
    auto& held = holding.nodes[node];
    holding.support_of_node.emplace(node, line.support);
    const size_t along = runs_along_x ? 0 : 1, across = 1 - along;
    if (line.down) held[2] = true;
    if (line.tilt) held[3 + across] = true; // turning about the line moves the section across it
    if (line.twist) held[3 + along] = true;
    const double z = shell.reference_depth - line.level * thickness_near(shell.field, shell.node_point(node));
    for (const size_t c : {along, across}) {
        if (!(c == along ? line.along : line.across)) continue;
        double& level = c == 0 ? shell.levels[node].zu : shell.levels[node].zv;
        if (held[c] && std::abs(level - z) > 1e-9)
            held[3 + c] = true; // held at two levels: it cannot turn either
        level = z;
        held[c] = true;
    }
}

void hold_straight(Shell& shell, Holding& holding, const HeldLine& line, bool runs_along_x) {
    const Mesh& mesh = shell.mesh;
    const std::vector<double>& crossing = runs_along_x ? mesh.ys : mesh.xs;
    const double position = runs_along_x ? line.from.y : line.from.x;
    const auto nearest = std::min_element(crossing.begin(), crossing.end(), [&](double a, double b) {
        return std::abs(a - position) < std::abs(b - position);
    });
    const int fixed = static_cast<int>(nearest - crossing.begin()) * shell.order;
    const double low = runs_along_x ? std::min(line.from.x, line.to.x) : std::min(line.from.y, line.to.y);
    const double high = runs_along_x ? std::max(line.from.x, line.to.x) : std::max(line.from.y, line.to.y);
    const int count = runs_along_x ? shell.nodes_x() : shell.stiffness.grid.nodes_y();
    for (int k = 0; k < count; ++k) {
        const int node = runs_along_x ? shell.node(k, fixed) : shell.node(fixed, k);
        const Point p = shell.node_point(node);
        const double s = runs_along_x ? p.x : p.y;
        if (!(s >= low - 1e-6 && s <= high + 1e-6)) continue;
        hold_node(shell, holding, node, line, runs_along_x);
        const CellGrid& grid = shell.stiffness.grid;
        for (size_t m = 0; m < grid.more_nodes.size(); ++m)
            if (grid.more_nodes[m] == node)
                hold_node(shell, holding, grid.n_grid_nodes() + static_cast<int>(m), line, runs_along_x);
    }
}

/// Stiff springs along a slanting line, cut at the mesh lines, order + 1 Gauss points in each cell.
void hold_slanting(Shell& shell, const HeldLine& line) {
    const double length = std::hypot(line.to.x - line.from.x, line.to.y - line.from.y);
    const Point t{(line.to.x - line.from.x) / length, (line.to.y - line.from.y) / length}, n{-t.y, t.x};
    std::vector<double> breaks{0, 1};
    for (const double x : shell.mesh.xs) {
        const double s = (x - line.from.x) / (line.to.x - line.from.x);
        if (s > 0 && s < 1) breaks.push_back(s);
    }
    for (const double y : shell.mesh.ys) {
        const double s = (y - line.from.y) / (line.to.y - line.from.y);
        if (s > 0 && s < 1) breaks.push_back(s);
    }
    std::sort(breaks.begin(), breaks.end());
    const double modulus = std::max(shell.plane.Q[0], shell.plane.Q[4]);
    constexpr double stiff = 1e3; // against the top's own stiffness; the movement left is below 0.1 %
    const Rule& rule = gauss_rule(shell.order + 1);
    for (size_t b = 0; b + 1 < breaks.size(); ++b) {
        const double s0 = breaks[b], s1 = breaks[b + 1];
        if (s1 - s0 < 1e-12) continue;
        for (size_t q = 0; q < rule.points.size(); ++q) {
            const double s = s0 + (s1 - s0) * (1 + rule.points[q]) / 2;
            const Point p{line.from.x + s * (line.to.x - line.from.x),
                          line.from.y + s * (line.to.y - line.from.y)};
            const int cell = cell_at(shell, p);
            if (cell < 0) continue;
            const double h = thickness_near(shell.field, p), z = shell.reference_depth - line.level * h;
            const double weight = rule.weights[q] / 2 * (s1 - s0) * length;
            const auto hold = [&](std::array<double, 5> row, double stiffness) {
                shell.held_points.push_back({.at = p,
                                             .cell = cell,
                                             .support = line.support,
                                             .row = row,
                                             .stiffness = stiffness * weight});
            };
            if (line.down) hold({0, 0, 1, 0, 0}, stiff * modulus);
            if (line.tilt) hold({0, 0, 0, n.x, n.y}, stiff * modulus * h * h / 12);
            if (line.twist) hold({0, 0, 0, t.x, t.y}, stiff * modulus * h * h / 12);
            if (line.along) hold({t.x, t.y, 0, z * t.x, z * t.y}, stiff * modulus);
            if (line.across) hold({n.x, n.y, 0, z * n.x, z * n.y}, stiff * modulus);
        }
    }
}

/// Adds a leaf's matrix to its cell's.
void add_to(std::vector<double>& matrix, size_t size, const std::vector<int>& local,
            const std::vector<double>& own) {
    const size_t n = local.size() * dofs_per_node;
    for (size_t j = 0; j < n; ++j) {
        const auto column = static_cast<size_t>(local[j / dofs_per_node]) * dofs_per_node + j % dofs_per_node;
        for (size_t i = 0; i < n; ++i)
            matrix[column * size + static_cast<size_t>(local[i / dofs_per_node]) * dofs_per_node +
                   i % dofs_per_node] += own[j * n + i];
    }
}

/// Replaces u by u' - zu bx (and v alike) at the levelled nodes of one element matrix: K' = T' K T.
void level_element(const Shell& shell, const std::vector<int>& dofs, std::vector<double>& matrix) {
    const size_t size = dofs.size();
    for (size_t local = 0; local < size; local += dofs_per_node) {
        const auto found = shell.levels.find(dofs[local] / dofs_per_node);
        if (found == shell.levels.end()) continue;
        for (const size_t c : {size_t{0}, size_t{1}}) {
            const double z = c == 0 ? found->second.zu : found->second.zv;
            for (size_t k = 0; k < size; ++k)
                matrix[(local + 3 + c) * size + k] -= z * matrix[(local + c) * size + k];
            for (size_t k = 0; k < size; ++k)
                matrix[k * size + local + 3 + c] -= z * matrix[k * size + local + c];
        }
    }
}

} // namespace

Shell make_shell(const PlaneStiffness& plane, const ThicknessField& field, const MeshWishes& wishes,
                 const std::vector<HeldLine>& held, const ShellOptions& options) {
    Shell shell{
        .field = field, .plane = plane, .order = options.order, .reference_depth = options.reference_depth};
    shell.mesh = make_mesh(field, options.size, wishes);
    const Mesh& mesh = shell.mesh;
    const auto n_cells = mesh.cells.size();
    CellGrid& grid = shell.stiffness.grid;
    grid = {.nx = mesh.nx(),
            .ny = mesh.ny(),
            .order = options.order,
            .dofs_per_node = dofs_per_node,
            .active = {}};
    for (const Cell& cell : mesh.cells) grid.active.push_back(cell.active ? 1 : 0);
    number_leaves(shell);

    Holding holding;
    for (const HeldLine& line : held) {
        if (std::abs(line.from.y - line.to.y) < straight_tolerance)
            hold_straight(shell, holding, line, true);
        else if (std::abs(line.from.x - line.to.x) < straight_tolerance)
            hold_straight(shell, holding, line, false);
        else
            hold_slanting(shell, line);
    }
    for (const auto& [node, components] : holding.nodes)
        for (int c = 0; c < dofs_per_node; ++c)
            if (components[static_cast<size_t>(c)])
                shell.held_dof_support.emplace_back(node * dofs_per_node + c,
                                                    holding.support_of_node.at(node));
    for (const auto& [dof, support] : shell.held_dof_support) shell.stiffness.held.push_back(dof);

    const SectionOf section_of = [&](SectionRegion place) -> const Section& {
        const auto found = shell.sections.find(place);
        if (found != shell.sections.end()) return found->second;
        return shell.sections.emplace(place, section_at(field, plane, place, options.reference_depth))
            .first->second;
    };
    const Section stand_in = plain_section(plane, field.thickness, options.reference_depth);
    std::map<int, std::vector<const HeldPoint*>> springs;
    for (const HeldPoint& point : shell.held_points) springs[point.cell].push_back(&point);
    std::map<CellKey, int> known;
    SectionNumbers numbers;
    shell.stiffness.cell_class.assign(n_cells, -1);
    shell.cut_points.resize(n_cells);
    for (size_t c = 0; c < n_cells; ++c)
        if (mesh.cells[c].active && mesh.cells[c].cut)
            shell.cut_points[c] = cell_points(field, mesh.cells[c], options.order + 1);
        else if (mesh.cells[c].active && mesh.cells[c].uneven)
            shell.cut_points[c] = uneven_points(field, mesh.cells[c], options.order + 1);
    for (const std::vector<QuadraturePoint>& points : shell.cut_points)
        for (const QuadraturePoint& q : points)
            if (is_uneven(field, q.place.region) && !shell.uneven.contains(q.place)) {
                shell.uneven.emplace(q.place, uneven_skin(field, plane, q.place, options.reference_depth));
                if (q.place.wall >= 0)
                    section_of(q.place); // its wood's share of the strain is read from there
            }
    const UnevenOf uneven_of = uneven_of_shell(shell);
    for (size_t c = 0; c < n_cells; ++c) {
        const Cell& cell = mesh.cells[c];
        if (!cell.active) continue;
        const auto index = static_cast<int>(c);
        const std::vector<int> dofs = cell_dofs(shell, index);
        const bool levelled = std::any_of(dofs.begin(), dofs.end(), [&](int dof) {
            return dof % dofs_per_node == 0 && shell.levels.contains(dof / dofs_per_node);
        });
        const auto spring = springs.find(index);
        const bool plain = !cell.cut && !cell.uneven && !levelled && spring == springs.end();
        CellKey key{};
        if (plain) {
            key = key_of(cell, numbers.number_of(cell.place, section_of));
            const auto found = known.find(key);
            if (found != known.end()) {
                shell.stiffness.cell_class[c] = found->second;
                continue;
            }
        }
        std::vector<double> matrix;
        if (is_split_by_seams(mesh, index)) {
            matrix.assign(dofs.size() * dofs.size(), 0);
            const std::vector<CellLeaf>& leaves = shell.leaves[c];
            for (size_t k = 0; k < leaves.size(); ++k)
                add_to(matrix, dofs.size(), leaves[k].local,
                       element_stiffness(cell, options.order,
                                         points_of_leaf(shell, index, static_cast<int>(k)), section_of,
                                         stand_in, uneven_of));
            add_seams(shell, index, matrix);
        } else {
            matrix =
                element_stiffness(cell, options.order, shell.cut_points[c], section_of, stand_in, uneven_of);
        }
        if (spring != springs.end()) {
            BasisAt basis;
            for (const HeldPoint* point : spring->second) {
                basis_at(shell, index, point->at, basis);
                const size_t size = dofs.size();
                std::vector<double> column(size);
                for (size_t k = 0; k < size; ++k)
                    column[k] = basis.value[k / dofs_per_node] * point->row[k % dofs_per_node];
                for (size_t a = 0; a < size; ++a)
                    for (size_t b = 0; b < size; ++b)
                        matrix[a * size + b] += point->stiffness * column[a] * column[b];
            }
        }
        if (levelled) level_element(shell, dofs, matrix);
        const auto cls = static_cast<int>(shell.stiffness.classes.size());
        shell.stiffness.classes.push_back(std::move(matrix));
        shell.stiffness.cell_class[c] = cls;
        if (plain) known.emplace(key, cls);
    }
    return shell;
}

} // namespace hollowtop
