// SPDX-License-Identifier: MIT
#include "solver/interface/supports.hpp"

#include "materials/digits.hpp"
#include "materials/section.hpp"
#include "solver/interface/bed.hpp"
#include "solver/numeric/quadrature.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace hollowtop {
namespace {

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

/// How much of a support bears, in the words of a warning.
std::string told_over_recess(const std::string& name, const Bed& bed, const ThicknessField& field,
                             const Piece& piece) {
    using materials::digits;
    const std::string over = '"' + piece.recesses[static_cast<size_t>(bed.recess)].name + '"';
    const double gap = field.thickness - field.recesses[static_cast<size_t>(bed.recess)].skin;
    if (bed.bearing <= 0)
        return name + " lies under the recess " + over + ", " + digits(gap) +
               " mm below its floor: it carries nothing until the top has come down so far. Pack it "
               "(\"packed\": true), or move it.";
    return name + " lies partly under the recess " + over + ": " + digits(100 * bed.bearing, 2) +
           " % of its area bears, the rest is " + digits(gap) +
           " mm below the wood. Where that is packed, say so (\"packed\": true).";
}

struct Planner {
    SupportPlan& plan;
    const Piece& piece;
    const ThicknessField& field;
    const PlaneStiffness& plane;
    double modulus;
    int index;
    bool coarse;

    const std::string& name() const { return piece.supports[static_cast<size_t>(index)].name; }

    void finish(Point centre, Rectangle extent, double area, bool one_sided, double bearing = 1) const {
        plan.centres.push_back(centre);
        plan.extents.push_back(extent);
        plan.areas.push_back(area);
        plan.bearing.push_back(bearing);
        plan.all_one_sided = plan.all_one_sided && one_sided;
    }
    void finish_line(Point a, Point b, double area, double half_width, bool one_sided,
                     double bearing = 1) const {
        finish(middle(a, b),
               {std::min(a.x, b.x) - half_width, std::max(a.x, b.x) + half_width,
                std::min(a.y, b.y) - half_width, std::max(a.y, b.y) + half_width},
               area, one_sided, bearing);
    }
    /// The share of it that bears.
    double add_bed(const BedShape& shape, std::optional<double> stated, bool held, bool packed) const {
        Bed bed = make_bed(shape,
                           {.modulus = modulus,
                            .stated = stated,
                            .held = held,
                            .packed = packed,
                            .extent = {piece.top.length, piece.top.width},
                            .coarse = coarse},
                           field, plane);
        for (ContactPoint& point : bed.points) {
            point.support = index;
            plan.points.push_back(point);
        }
        if (bed.bearing < 1) plan.warnings.push_back(told_over_recess(name(), bed, field, piece));
        return bed.bearing;
    }
    bool carries_a_rail(const Pad& pad) const {
        return std::any_of(piece.supports.begin(), piece.supports.end(), [&](const Support& support) {
            const auto* rail = std::get_if<Rail>(&support.kind);
            return rail &&
                   stands_under(pad, rail->from, rail->to, materials::parse_section(rail->section).width);
        });
    }
    void operator()(const Pad& pad) const {
        const double a = pad.size_x / 2, b = pad.size_y / 2;
        const double bearing = add_bed({.centre = pad.at, .half_along = a, .half_across = b}, pad.stiffness,
                                       pad.hold_down, pad.packed || carries_a_rail(pad));
        plan.wishes.attractors_x.push_back({pad.at.x, std::max(pad.size_x * 0.6, 20.0)});
        plan.wishes.attractors_y.push_back({pad.at.y, std::max(pad.size_y * 0.6, 20.0)});
        finish(pad.at, {pad.at.x - a, pad.at.x + a, pad.at.y - b, pad.at.y + b}, 4 * a * b,
               !pad.hold_down || bearing <= 0, bearing);
    }
    void operator()(const Bearer& bearer) const {
        const double length = length_of(bearer.from, bearer.to);
        if (bearer.width > 0) {
            const Point t{(bearer.to.x - bearer.from.x) / length, (bearer.to.y - bearer.from.y) / length};
            const double bearing = add_bed({.centre = middle(bearer.from, bearer.to),
                                            .axis = t,
                                            .half_along = length / 2,
                                            .half_across = bearer.width / 2},
                                           bearer.stiffness, bearer.hold_down, bearer.packed);
            finish_line(bearer.from, bearer.to, length * bearer.width, bearer.width / 2,
                        !bearer.hold_down || bearing <= 0, bearing);
            if (runs_along_x(bearer.from, bearer.to))
                plan.wishes.attractors_y.push_back({bearer.from.y, std::max(bearer.width * 0.8, 25.0)});
            if (runs_along_y(bearer.from, bearer.to))
                plan.wishes.attractors_x.push_back({bearer.from.x, std::max(bearer.width * 0.8, 25.0)});
            return;
        }
        warn_of_line(bearer, length);
        wish_for_line(plan.wishes, bearer.from, bearer.to);
        if (bearer.hold_down && !bearer.stiffness)
            plan.held.push_back({.from = bearer.from, .to = bearer.to, .down = true, .support = index});
        finish_line(bearer.from, bearer.to, 0, 0, !bearer.hold_down);
    }
    /// A knife edge touches whatever is above it.
    void warn_of_line(const Bearer& bearer, double length) const {
        if (bearer.packed || length <= 0) return;
        constexpr double least = 1; // mm
        const Point axis{(bearer.to.x - bearer.from.x) / length, (bearer.to.y - bearer.from.y) / length};
        for (const LevelStretch& stretch :
             levels_along(field, middle(bearer.from, bearer.to), axis, length / 2)) {
            if (stretch.region <= full_thickness || stretch.to - stretch.from < least) continue;
            plan.warnings.push_back(name() +
                                    " has no width: it is taken to touch the floor of the recess \"" +
                                    piece.recesses[static_cast<size_t>(stretch.region - 1)].name +
                                    "\" too, as if packed. Give it its width, and there is a gap.");
            return;
        }
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
                             .level = held.level == Level::top      ? 0.0
                                      : held.level == Level::middle ? 0.5
                                                                    : 1.0,
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

bool stands_under(const Pad& pad, Point from, Point to, double width) {
    const double length = length_of(from, to);
    const Point along{(to.x - from.x) / length, (to.y - from.y) / length},
        centre = middle(from, to), d{pad.at.x - centre.x, pad.at.y - centre.y};
    const double s = d.x * along.x + d.y * along.y, y = d.y * along.x - d.x * along.y;
    return std::abs(y) <= width / 2 && std::abs(s) < length / 2 - std::max(pad.size_x, pad.size_y);
}

SupportPlan plan_supports(const Piece& piece, const ThicknessField& field, const PlaneStiffness& plane,
                          double through_thickness_modulus, bool coarse) {
    SupportPlan plan;
    bool worked_out = false;
    for (size_t i = 0; i < piece.supports.size(); ++i) {
        const Support& support = piece.supports[i];
        std::visit(Planner{plan, piece, field, plane, through_thickness_modulus, static_cast<int>(i), coarse},
                   support.kind);
        const auto* pad = std::get_if<Pad>(&support.kind);
        const auto* bearer = std::get_if<Bearer>(&support.kind);
        worked_out =
            worked_out || (pad && !pad->stiffness) || (bearer && bearer->width > 0 && !bearer->stiffness);
    }
    if (worked_out)
        plan.assumptions.push_back("Pads and bearers are taken as rigid; the top's underside gives under "
                                   "them by its own compression "
                                   "across the grain, " +
                                   materials::digits(through_thickness_modulus) +
                                   " MPa over its thickness (elastic layer between rigid plates).");
    return plan;
}

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
        const int i = cell % shell.mesh.nx() * shell.order, j = cell / shell.mesh.nx() * shell.order;
        for (int b = 0; b <= shell.order; ++b)
            for (int a = 0; a <= shell.order; ++a)
                share[shell.node(i + a, j + b)] +=
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
