// SPDX-License-Identifier: MIT
#include "solver/interface/supports.hpp"

#include "materials/digits.hpp"
#include "solver/shell/quadrature.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace hollowtop {
namespace {

constexpr int pad_tiles = 4; // a side: sees a pad that bears on one edge only

double length_of(Point a, Point b) { return std::hypot(b.x - a.x, b.y - a.y); }
Point middle(Point a, Point b) { return {(a.x + b.x) / 2, (a.y + b.y) / 2}; }

bool runs_along_x(Point a, Point b) { return std::abs(a.y - b.y) < 1e-7; }
bool runs_along_y(Point a, Point b) { return std::abs(a.x - b.x) < 1e-7; }

/// Axis-parallel lines become mesh lines, their ends too.
void wish_for_line(MeshWishes& wishes, Point a, Point b) {
    if (!runs_along_x(a, b) && !runs_along_y(a, b)) return;
    for (const Point& p : {a, b}) {
        wishes.lines_x.push_back(p.x);
        wishes.lines_y.push_back(p.y);
    }
}

double bed_stiffness(const std::optional<double>& stated, const ThicknessField& field, Point at, double modulus) {
    if (stated) return *stated;
    const double h = thickness_of(field, region_at(field, at));
    return modulus / (h > 0 ? h : field.thickness);
}

/// Tiles over the rectangle about `centre` with unit axis t, half length a along it and half width b across it.
void add_bed(SupportPlan& plan, int support, Point centre, Point t, double a, double b, int along, int across, double stiffness,
             bool two_sided) {
    const double half_a = a / along, half_b = b / across, area = 4 * half_a * half_b;
    for (int i = 0; i < along; ++i) {
        for (int j = 0; j < across; ++j) {
            const double p = -a + half_a * (2 * i + 1), q = -b + half_b * (2 * j + 1);
            plan.points.push_back({.support = support,
                                   .at = {centre.x + p * t.x - q * t.y, centre.y + p * t.y + q * t.x},
                                   .compliance = 1 / (stiffness * area),
                                   .area = area,
                                   .two_sided = two_sided,
                                   .axis = t,
                                   .half_along = half_a,
                                   .half_across = half_b});
        }
    }
}

struct Planner {
    SupportPlan& plan;
    const ThicknessField& field;
    double modulus;
    int index;

    void finish(Point centre, Rectangle extent, double area, bool one_sided) const {
        plan.centres.push_back(centre);
        plan.extents.push_back(extent);
        plan.areas.push_back(area);
        plan.all_one_sided = plan.all_one_sided && one_sided;
    }
    void finish_line(Point a, Point b, double area, double half_width, bool one_sided) const {
        finish(middle(a, b),
               {std::min(a.x, b.x) - half_width, std::max(a.x, b.x) + half_width, std::min(a.y, b.y) - half_width,
                std::max(a.y, b.y) + half_width},
               area, one_sided);
    }
    void operator()(const Pad& pad) const {
        const double a = pad.size_x / 2, b = pad.size_y / 2;
        add_bed(plan, index, pad.at, {1, 0}, a, b, pad_tiles, pad_tiles,
                bed_stiffness(pad.stiffness, field, pad.at, modulus), pad.hold_down);
        plan.wishes.attractors_x.push_back({pad.at.x, std::max(pad.size_x * 0.6, 20.0)});
        plan.wishes.attractors_y.push_back({pad.at.y, std::max(pad.size_y * 0.6, 20.0)});
        finish(pad.at, {pad.at.x - a, pad.at.x + a, pad.at.y - b, pad.at.y + b}, 4 * a * b, !pad.hold_down);
    }
    void operator()(const Bearer& bearer) const {
        const double length = length_of(bearer.from, bearer.to);
        if (bearer.width > 0) {
            const Point t{(bearer.to.x - bearer.from.x) / length, (bearer.to.y - bearer.from.y) / length};
            const int along = std::max(4, static_cast<int>(std::ceil(length / 30)));
            add_bed(plan, index, middle(bearer.from, bearer.to), t, length / 2, bearer.width / 2, along, 2,
                    bed_stiffness(bearer.stiffness, field, middle(bearer.from, bearer.to), modulus), bearer.hold_down);
            finish_line(bearer.from, bearer.to, length * bearer.width, bearer.width / 2, !bearer.hold_down);
            if (runs_along_x(bearer.from, bearer.to)) plan.wishes.attractors_y.push_back({bearer.from.y, std::max(bearer.width * 0.8, 25.0)});
            if (runs_along_y(bearer.from, bearer.to)) plan.wishes.attractors_x.push_back({bearer.from.x, std::max(bearer.width * 0.8, 25.0)});
            return;
        }
        wish_for_line(plan.wishes, bearer.from, bearer.to);
        if (bearer.hold_down && !bearer.stiffness)
            plan.held.push_back({.from = bearer.from, .to = bearer.to, .down = true, .support = index});
        finish_line(bearer.from, bearer.to, 0, 0, !bearer.hold_down);
    }
    void operator()(const Rail& rail) const { finish_line(rail.from, rail.to, 0, 0, !rail.hold_down); }
    void operator()(const Held& held) const {
        wish_for_line(plan.wishes, held.from, held.to);
        plan.held.push_back({.from = held.from,
                             .to = held.to,
                             .down = held.down,
                             .tilt = held.tilt,
                             .twist = held.twist,
                             .along = held.along,
                             .across = held.across,
                             .level = held.level == Level::top ? 0.0 : held.level == Level::middle ? 0.5 : 1.0,
                             .support = index});
        finish_line(held.from, held.to, 0, 0, !held.down);
    }
    void operator()(const BuiltIn& line) const {
        wish_for_line(plan.wishes, line.from, line.to);
        plan.held.push_back({.from = line.from,
                             .to = line.to,
                             .down = true,
                             .tilt = true,
                             .twist = true,
                             .along = true,
                             .across = true,
                             .level = 0.5,
                             .support = index});
        finish_line(line.from, line.to, 0, 0, false);
    }
};

bool is_pressing_knife_edge(const Support& support) {
    const auto* bearer = std::get_if<Bearer>(&support.kind);
    return bearer && bearer->width <= 0 && (!bearer->hold_down || bearer->stiffness);
}

/// Nodes on an axis-parallel knife edge with their shares of its length (Lobatto weights).
std::map<int, double> nodes_on_line(const Shell& shell, Point from, Point to) {
    std::map<int, double> shares;
    const bool along_x = runs_along_x(from, to);
    const std::vector<double>&lines = along_x ? shell.mesh.xs : shell.mesh.ys, &crossing = along_x ? shell.mesh.ys : shell.mesh.xs;
    const double position = along_x ? from.y : from.x;
    const double low = along_x ? std::min(from.x, to.x) : std::min(from.y, to.y);
    const double high = along_x ? std::max(from.x, to.x) : std::max(from.y, to.y);
    const auto nearest = std::min_element(crossing.begin(), crossing.end(),
                                          [&](double a, double b) { return std::abs(a - position) < std::abs(b - position); });
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

SupportPlan plan_supports(const Piece& piece, const ThicknessField& field, double through_thickness_modulus) {
    SupportPlan plan;
    bool worked_out = false;
    for (size_t i = 0; i < piece.supports.size(); ++i) {
        const Support& support = piece.supports[i];
        std::visit(Planner{plan, field, through_thickness_modulus, static_cast<int>(i)}, support.kind);
        const auto* pad = std::get_if<Pad>(&support.kind);
        const auto* bearer = std::get_if<Bearer>(&support.kind);
        worked_out = worked_out || (pad && !pad->stiffness) || (bearer && bearer->width > 0 && !bearer->stiffness);
    }
    if (worked_out)
        plan.assumptions.push_back("Pads and bearers are taken as rigid; the top's underside gives under them by its own compression "
                                   "across the grain, " + materials::digits(through_thickness_modulus) +
                                   " MPa over its thickness (elastic layer between rigid plates).");
    return plan;
}

std::vector<QuadraturePoint> tile_points(const Shell& shell, const ContactPoint& tile) {
    std::vector<QuadraturePoint> points;
    const double ax = tile.half_along * std::abs(tile.axis.x) + tile.half_across * std::abs(tile.axis.y);
    const double ay = tile.half_along * std::abs(tile.axis.y) + tile.half_across * std::abs(tile.axis.x);
    const bool square_to_axes = std::abs(tile.axis.x * tile.axis.y) < 1e-12;
    const Rectangle box{tile.at.x - ax, tile.at.x + ax, tile.at.y - ay, tile.at.y + ay};
    const Mesh& mesh = shell.mesh;
    // square to the mesh: cut at the mesh lines; slanting: Gauss points of the whole tile
    std::vector<double> xs{box.x0, box.x1}, ys{box.y0, box.y1};
    if (square_to_axes) {
        for (const double x : mesh.xs)
            if (x > box.x0 && x < box.x1) xs.push_back(x);
        for (const double y : mesh.ys)
            if (y > box.y0 && y < box.y1) ys.push_back(y);
        std::sort(xs.begin(), xs.end());
        std::sort(ys.begin(), ys.end());
    }
    const Rule& rule = gauss_rule(square_to_axes ? shell.order / 2 + 1 : 4);
    for (size_t i = 0; i + 1 < xs.size(); ++i)
        for (size_t j = 0; j + 1 < ys.size(); ++j)
            for (size_t a = 0; a < rule.points.size(); ++a)
                for (size_t b = 0; b < rule.points.size(); ++b) {
                    const double s = rule.points[a], t = rule.points[b];
                    QuadraturePoint q;
                    if (square_to_axes) {
                        q.x = xs[i] + (xs[i + 1] - xs[i]) * (1 + s) / 2;
                        q.y = ys[j] + (ys[j + 1] - ys[j]) * (1 + t) / 2;
                        q.weight = rule.weights[a] * rule.weights[b] / 4 * (xs[i + 1] - xs[i]) * (ys[j + 1] - ys[j]);
                    } else {
                        q.x = tile.at.x + s * tile.half_along * tile.axis.x - t * tile.half_across * tile.axis.y;
                        q.y = tile.at.y + s * tile.half_along * tile.axis.y + t * tile.half_across * tile.axis.x;
                        q.weight = rule.weights[a] * rule.weights[b] * tile.half_along * tile.half_across;
                    }
                    points.push_back(q);
                }
    return points;
}

namespace {

/// A unit force spread over the tile: `force` on u, v, w, bx, by about the reference surface.
void append_spread(const Shell& shell, const ContactPoint& tile, const std::array<double, dofs_per_node>& force, SparseColumns& columns) {
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
        const int i = cell % shell.mesh.nx() * shell.order, j = cell / shell.mesh.nx() * shell.order;
        for (int b = 0; b <= shell.order; ++b)
            for (int a = 0; a <= shell.order; ++a)
                share[shell.node(i + a, j + b)] += q.weight / area * basis.value[static_cast<size_t>(b * (shell.order + 1) + a)];
    }
    for (const auto& [node, value] : share) {
        if (value == 0) continue;
        const auto level = shell.levels.find(node); // u and v of a held node are meant at its own height
        const NodeLevel held = level == shell.levels.end() ? NodeLevel{} : level->second;
        const std::array<double, dofs_per_node> at_node{force[0], force[1], force[2], force[3] - held.zu * force[0], force[4] - held.zv * force[1]};
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
    if (tile.half_along <= 0) append_point_force(shell, tile.at, columns);
    else append_tile_force(shell, tile, {0, 0, 1}, 0, columns);
}

void append_tile_force(const Shell& shell, const ContactPoint& tile, const std::array<double, 3>& direction, double z, SparseColumns& columns) {
    const double height = z + shell.reference_depth;
    append_spread(shell, tile, {direction[0], direction[1], direction[2], height * direction[0], height * direction[1]}, columns);
}

void append_tile_turn(const Shell& shell, const ContactPoint& tile, Point direction, SparseColumns& columns) {
    append_spread(shell, tile, {0, 0, 0, direction.x, direction.y}, columns);
}

std::vector<ContactPoint> knife_edge_points(const Piece& piece, const Shell& shell, double through_thickness_modulus) {
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
            for (const auto& [node, share] : nodes_on_line(shell, bearer.from, bearer.to)) add(shell.node_point(node), share);
            continue;
        }
        const double length = length_of(bearer.from, bearer.to);
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
