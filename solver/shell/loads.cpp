// SPDX-License-Identifier: MIT
#include "solver/shell/loads.hpp"

#include "materials/error.hpp"
#include "solver/numeric/quadrature.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

namespace hollowtop {
namespace {

using Pressure = std::function<double(const QuadraturePoint&)>;

/// Adds the downward pressure over the part of the top inside `box`; returns the area it rests on. `apart`:
/// what the pressure tells apart.
double add_pressure(const Shell& shell, const Rectangle& box, Apart apart, const Pressure& pressure,
                    std::vector<LoadPoint>& points) {
    double area = 0;
    const Mesh& mesh = shell.mesh;
    for (int j = interval_of(mesh.ys, box.y0); j <= interval_of(mesh.ys, box.y1); ++j) {
        for (int i = interval_of(mesh.xs, box.x0); i <= interval_of(mesh.xs, box.x1); ++i) {
            const Cell& cell = mesh.cell(i, j);
            if (!cell.active) continue;
            // a weight is of the whole cell
            const bool is_fine = cell.uneven && apart == Apart::regions;
            // polynomials differ on the two sides of a seam
            const bool is_split = is_split_by_seams(mesh, j * mesh.nx() + i);
            const Apart apart_here = is_split && apart == Apart::top ? Apart::regions : apart;
            for (const QuadraturePoint& q :
                 is_fine ? uneven_points(shell.field, cell, shell.order + 1)
                         : cell_points_in(shell.field, cell, box, shell.order + 1, apart_here)) {
                if (q.place.region == outside) continue;
                area += q.weight;
                points.push_back(
                    {.cell = j * mesh.nx() + i, .at = {q.x, q.y}, .force = q.weight * pressure(q)});
            }
        }
    }
    return area;
}

Rectangle whole(const Shell& shell) {
    const Mesh& mesh = shell.mesh;
    return {mesh.xs.front(), mesh.xs.back(), mesh.ys.front(), mesh.ys.back()};
}

[[noreturn]] void off_the_top(const std::string& place) {
    throw Error(
        ErrorKind::input,
        {.place = place, .what = "the load lies wholly off the top", .remedy = "move it onto the top"});
}

Rectangle box_about(Point at, double size_x, double size_y) {
    return {at.x - size_x / 2, at.x + size_x / 2, at.y - size_y / 2, at.y + size_y / 2};
}

struct Spreader {
    const Shell& shell;
    const std::string& place;
    std::vector<LoadPoint>& points;

    void add_single(Point at, double force) const {
        const int cell = cell_at(shell, at);
        if (cell < 0) off_the_top(place);
        points.push_back({.cell = cell, .at = at, .force = force});
    }
    void operator()(const AreaLoad& load) const {
        const double area = add_pressure(
            shell, load.over.value_or(whole(shell)), Apart::top,
            [&](const QuadraturePoint&) { return load.pressure; }, points);
        if (area <= 0) off_the_top(place);
    }
    void operator()(const PatchLoad& load) const {
        if (load.size_x <= 0 || load.size_y <= 0) {
            if (load.size_x <= 0 && load.size_y <= 0) {
                add_single(load.at, load.force);
                return;
            }
            const Point half{load.size_x / 2, load.size_y / 2};
            (*this)(LineLoad{.force = load.force,
                             .from = {load.at.x - half.x, load.at.y - half.y},
                             .to = {load.at.x + half.x, load.at.y + half.y},
                             .over = {}});
            return;
        }
        const Rectangle box{load.at.x - load.size_x / 2, load.at.x + load.size_x / 2,
                            load.at.y - load.size_y / 2, load.at.y + load.size_y / 2};
        const double area = add_pressure(
            shell, box, Apart::top, [](const QuadraturePoint&) { return 1.0; }, points);
        if (area <= 0) off_the_top(place);
        for (LoadPoint& point : points) point.force *= load.force / area;
    }
    void operator()(const ClampLoad& load) const {
        const ClampForces forces = clamp_forces(load);
        const auto press = [&](double force, Point lean, double size_x, double size_y) {
            if (force == 0) return;
            const double mean = force / (size_x * size_y);
            const double area = add_pressure(
                shell, box_about(load.at, size_x, size_y), Apart::top,
                [&](const QuadraturePoint& q) {
                    return mean * (1 + lean.x * 2 * (q.x - load.at.x) / size_x +
                                   lean.y * 2 * (q.y - load.at.y) / size_y);
                },
                points);
            if (area <= 0) off_the_top(place);
        };
        press(forces.upper, forces.upper_lean, load.above_x, load.above_y);
        press(-forces.lower, forces.lower_lean, load.below_x, load.below_y);
    }
    void operator()(const LineLoad& load) const {
        const double length = std::hypot(load.to.x - load.from.x, load.to.y - load.from.y);
        if (length <= 0) {
            add_single(load.from, load.force);
            return;
        }
        std::vector<double> breaks{0, 1};
        const auto cut = [&](const std::vector<double>& lines, double from, double to) {
            for (const double v : lines) {
                const double s = (v - from) / (to - from);
                if (to != from && s > 0 && s < 1) breaks.push_back(s);
            }
        };
        cut(shell.mesh.xs, load.from.x, load.to.x);
        cut(shell.mesh.ys, load.from.y, load.to.y);
        std::sort(breaks.begin(), breaks.end());
        const Rule& rule = gauss_rule(shell.order + 1);
        double on_top = 0;
        for (size_t b = 0; b + 1 < breaks.size(); ++b) {
            for (size_t q = 0; q < rule.points.size(); ++q) {
                const double s = breaks[b] + (breaks[b + 1] - breaks[b]) * (1 + rule.points[q]) / 2;
                const Point p{load.from.x + s * (load.to.x - load.from.x),
                              load.from.y + s * (load.to.y - load.from.y)};
                const int cell = cell_at(shell, p);
                if (cell < 0 || p.x < shell.mesh.xs.front() - 1e-9 || p.x > shell.mesh.xs.back() + 1e-9 ||
                    p.y < shell.mesh.ys.front() - 1e-9 || p.y > shell.mesh.ys.back() + 1e-9)
                    continue;
                if (shell.mesh.cells[static_cast<size_t>(cell)].cut && region_at(shell.field, p) == outside)
                    continue;
                points.push_back(
                    {.cell = cell, .at = p, .force = rule.weights[q] / 2 * (breaks[b + 1] - breaks[b])});
                on_top += points.back().force;
            }
        }
        if (on_top <= 0) off_the_top(place);
        for (LoadPoint& point : points) point.force *= load.force / on_top;
    }
};

/// Greatest mean of a linear pressure over what lies within `deep` of an edge of its rectangle, as a share of
/// the mean over all of it.
double greatest_share(Point lean, double size_x, double size_y) {
    const double x = size_x > 0 ? std::min(bearing_depth / size_x, 1.0) : 1,
                 y = size_y > 0 ? std::min(bearing_depth / size_y, 1.0) : 1;
    return 1 + std::abs(lean.x) * (1 - x) + std::abs(lean.y) * (1 - y);
}

struct Presser {
    const Shell& shell;
    const std::vector<LoadPoint>& points;

    Point middle() const {
        Point sum{};
        double weight = 0;
        for (const LoadPoint& p : points) {
            sum = {sum.x + p.force * p.at.x, sum.y + p.force * p.at.y};
            weight += p.force;
        }
        return weight != 0 ? Point{sum.x / weight, sum.y / weight} : Point{};
    }
    double area_on_top(const Rectangle& box) const {
        std::vector<LoadPoint> some;
        return add_pressure(
            shell, box, Apart::top, [](const QuadraturePoint&) { return 1.0; }, some);
    }
    std::vector<Pressed> operator()(const AreaLoad& load) const {
        const Rectangle box = load.over.value_or(whole(shell));
        double force = 0;
        for (const LoadPoint& p : points) force += p.force;
        const double drawn = (box.x1 - box.x0) * (box.y1 - box.y0),
                     area = load.pressure != 0 ? force / load.pressure : drawn;
        return {{.by = {},
                 .at = middle(),
                 .force = force,
                 .area = area,
                 .pressure = load.pressure,
                 .size_x = box.x1 - box.x0,
                 .size_y = box.y1 - box.y0,
                 .on_top = load.over ? area / drawn : 1}};
    }
    std::vector<Pressed> operator()(const PatchLoad& load) const {
        Pressed pressed{
            .by = {}, .at = middle(), .force = load.force, .size_x = load.size_x, .size_y = load.size_y};
        if (load.size_x > 0 && load.size_y > 0) {
            pressed.area = area_on_top(box_about(load.at, load.size_x, load.size_y));
            pressed.pressure = load.force / pressed.area;
            pressed.on_top = pressed.area / (load.size_x * load.size_y);
        }
        return {pressed};
    }
    std::vector<Pressed> operator()(const LineLoad& load) const {
        return {{.by = {}, .at = middle(), .force = load.force}};
    }
    std::vector<Pressed> operator()(const ClampLoad& load) const {
        const ClampForces forces = clamp_forces(load);
        const auto pad = [&](const char* by, double force, Point lean, double size_x, double size_y) {
            return Pressed{.by = by,
                           .at = load.at,
                           .force = force,
                           .area = size_x * size_y,
                           .pressure = force / (size_x * size_y) * greatest_share(lean, size_x, size_y),
                           .size_x = size_x,
                           .size_y = size_y};
        };
        std::vector<Pressed> pads{
            pad("its upper pad", forces.upper, forces.upper_lean, load.above_x, load.above_y)};
        if (forces.lower > 0)
            pads.push_back(pad("its lower pad", forces.lower, forces.lower_lean, load.below_x, load.below_y));
        return pads;
    }
};

} // namespace

ClampForces clamp_forces(const ClampLoad& clamp) {
    const Point d{clamp.hangs_at.x - clamp.at.x, clamp.hangs_at.y - clamp.at.y};
    const double arm = std::hypot(d.x, d.y);
    ClampForces forces{.upper = clamp.force};
    if (arm <= 0) return forces;
    const Point way{d.x / arm, d.y / arm};
    // how far from its middle a pad's force acts when its linear pressure just vanishes at one edge or corner
    const auto farthest = [&](double size_x, double size_y) {
        return 1 / (6 * (std::abs(way.x) / size_x + std::abs(way.y) / size_y));
    };
    const auto lean = [&](double off, double size_x, double size_y) {
        return Point{6 * off * way.x / size_x, 6 * off * way.y / size_y};
    };
    const double up = farthest(clamp.above_x, clamp.above_y), low = farthest(clamp.below_x, clamp.below_y);
    if (arm > up) { // the upper pad alone cannot hold it
        forces.lower = clamp.force * (arm - up) / (up + low);
        forces.upper += forces.lower;
        forces.lower_lean = lean(-low, clamp.below_x, clamp.below_y);
    }
    forces.upper_lean = lean(std::min(arm, up), clamp.above_x, clamp.above_y);
    return forces;
}

std::vector<Pressed> pressed_by(const Shell& shell, const Load& load, const std::vector<LoadPoint>& points) {
    return std::visit(Presser{shell, points}, load.kind);
}

std::vector<LoadPoint> load_points(const Shell& shell, const Load& load, const std::string& place) {
    std::vector<LoadPoint> points;
    std::visit(Spreader{shell, place, points}, load.kind);
    return points;
}

std::vector<double> nodal_forces(const Shell& shell, const std::vector<LoadPoint>& points) {
    std::vector<double> forces(static_cast<size_t>(shell.stiffness.grid.n_dofs()), 0);
    BasisAt basis;
    std::vector<int> dofs;
    int dofs_of = -1;
    for (const LoadPoint& point : points) {
        basis_at(shell, point.cell, point.at, basis);
        if (point.cell != dofs_of) dofs = cell_dofs(shell, dofs_of = point.cell);
        for (size_t k = 0; k < basis.value.size(); ++k)
            forces[static_cast<size_t>(dofs[k * dofs_per_node + 2])] -= point.force * basis.value[k];
    }
    return forces;
}

std::vector<double> weight_forces(const Shell& shell) {
    std::vector<LoadPoint> points;
    add_pressure(
        shell, whole(shell), Apart::regions,
        [&](const QuadraturePoint& q) {
            return shell.plane.density * local_thickness(shell.field, q.place.region, {q.x, q.y}) *
                   standard_gravity;
        },
        points);
    return nodal_forces(shell, points);
}

Resultant resultant_of(const Shell& shell, const std::vector<double>& forces) {
    Resultant total;
    const int n_nodes = shell.stiffness.grid.n_nodes();
    for (int node = 0; node < n_nodes; ++node) {
        const double down = -forces[static_cast<size_t>(node * dofs_per_node + 2)];
        if (down == 0) continue;
        const Point p = shell.node_point(node);
        total.force += down;
        total.x_moment += down * p.x;
        total.y_moment += down * p.y;
    }
    return total;
}

Resultant hollowed_weight(const Shell& shell) {
    std::vector<LoadPoint> points;
    add_pressure(
        shell, whole(shell), Apart::regions,
        [&](const QuadraturePoint& q) {
            return shell.plane.density *
                   (local_thickness(shell.field, full_thickness, {q.x, q.y}) -
                    local_thickness(shell.field, q.place.region, {q.x, q.y})) *
                   standard_gravity;
        },
        points);
    Resultant total;
    for (const LoadPoint& point : points) {
        total.force += point.force;
        total.x_moment += point.force * point.at.x;
        total.y_moment += point.force * point.at.y;
    }
    return total;
}

double volume_of(const ThicknessField& field, const Mesh& mesh) {
    double volume = 0;
    for (const Cell& cell : mesh.cells) {
        if (!cell.active) continue;
        for (const QuadraturePoint& q :
             cell.uneven ? uneven_points(field, cell, 4) : cell_points(field, cell, 4, Apart::regions))
            if (q.place.region != outside)
                volume += q.weight * local_thickness(field, q.place.region, {q.x, q.y});
    }
    return volume;
}

} // namespace hollowtop
