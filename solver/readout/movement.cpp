// SPDX-License-Identifier: MIT
#include "solver/readout/movement.hpp"

#include "solver/numeric/symmetric_eigen.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <numbers>
#include <utility>

namespace hollowtop {
namespace {

struct Extreme {
    double value = 0;
    Point at{};
};

/// Runs outwards from a good place in ever smaller steps; `value` is -infinity off the top.
/// To the best of the eight places about, as long as one is better; along a ridge that runs aslant four would stop short.
Extreme pattern_search(Extreme best, double step, double least_step,
                       const std::function<double(Point)>& value) {
    while (step > least_step) {
        Extreme next = best;
        for (int dx = -1; dx <= 1; ++dx)
            for (int dy = -1; dy <= 1; ++dy) {
                if (dx == 0 && dy == 0) continue;
                const Point p{best.at.x + dx * step, best.at.y + dy * step};
                const double v = value(p);
                if (v > next.value + 1e-12 * std::abs(next.value)) next = {v, p};
            }
        if (next.value > best.value)
            best = next;
        else
            step /= 2;
    }
    return best;
}

bool is_on_top(const Shell& shell, Point p) {
    const Mesh& mesh = shell.mesh;
    if (p.x < mesh.xs.front() || p.x > mesh.xs.back() || p.y < mesh.ys.front() || p.y > mesh.ys.back())
        return false;
    const int cell = cell_at(shell, p);
    if (cell < 0) return false;
    return !shell.mesh.cells[static_cast<size_t>(cell)].cut || region_at(shell.field, p) != outside;
}

/// The best along a loop: on a slanting edge a search along the axes stops short of it.
Extreme search_along(const Loop& loop, double least_step, const std::function<double(Point)>& value) {
    // of a piece; of many pieces, each a small part of the way, fewer
    constexpr std::size_t most_places = 24, all_places = 64 * most_places;
    const auto places = static_cast<int>(std::clamp(all_places / loop.size(), std::size_t{1}, most_places));
    const auto n = static_cast<double>(loop.size());
    Extreme best{-1e300, {}};
    double best_way = 0, longest = 0; // the way along the loop, one a piece
    const auto try_at = [&](double way) {
        way -= n * std::floor(way / n);
        const auto piece = std::min(static_cast<size_t>(way), loop.size() - 1);
        const Point p = point_on(loop[piece], way - static_cast<double>(piece));
        const double v = value(p);
        if (v <= best.value) return false;
        best = {v, p};
        best_way = way;
        return true;
    };
    for (size_t i = 0; i < loop.size(); ++i) {
        longest = std::max(longest, std::hypot(loop[i].b.x - loop[i].a.x, loop[i].b.y - loop[i].a.y));
        for (int k = 0; k < places; ++k) try_at(static_cast<double>(i) + static_cast<double>(k) / places);
    }
    for (double step = 1.0 / places; step * longest > least_step;) {
        const double here = best_way;
        if (!try_at(here + step) && !try_at(here - step)) step /= 2;
    }
    return best;
}

} // namespace

SupportPlane support_plane(const Model& model, const SolvedSituation& situation) {
    return support_plane(model, situation.point_force);
}

SupportPlane support_plane(const Model& model, const std::vector<double>& point_force) {
    std::vector<WeighedPoint> places;
    std::vector<double> total_area(model.supports.centres.size(), 0);
    for (const ContactPoint& point : model.points)
        if (point.gap <= 0) total_area[static_cast<size_t>(point.support)] += point.area;
    for (size_t i = 0; i < model.points.size(); ++i) {
        const ContactPoint& point = model.points[i];
        if (point.gap > 0) continue; // over a recess the support touches nothing
        places.push_back({.x = point.at.x,
                          .y = point.at.y,
                          .value = point.compliance * point_force[i],
                          .weight = point.area / total_area[static_cast<size_t>(point.support)]});
    }
    for (const HeldLine& line : model.supports.held) {
        if (!line.down) continue;
        places.push_back({.x = line.from.x, .y = line.from.y, .value = 0, .weight = 0.5});
        places.push_back({.x = line.to.x, .y = line.to.y, .value = 0, .weight = 0.5});
    }
    const FlatPlane plane = fitted_plane(places);
    return {plane.a, plane.b, plane.c};
}

Sag sag_of(const Shell& shell, const SolvedSituation& situation, const SupportPlane& plane) {
    const auto down = [&](Point p) {
        if (!is_on_top(shell, p)) return -1e300;
        return -movement_at(shell, situation.dofs, p) - plane.at(p);
    };
    Extreme best{-1e300, {}};
    const int nx = shell.nodes_x(), ny = shell.stiffness.grid.nodes_y();
    std::vector<double> xs;
    xs.reserve(static_cast<size_t>(nx));
    for (int ix = 0; ix < nx; ++ix) xs.push_back(shell.node_point(shell.node(ix, 0)).x);
    for (int iy = 0; iy < ny; ++iy) {
        Point p = shell.node_point(shell.node(0, iy));
        const double* moved =
            situation.dofs.data() + static_cast<size_t>(shell.node(0, iy) * dofs_per_node + 2);
        for (const double x : xs) {
            p.x = x;
            const double value = -*moved - plane.at(p);
            if (value > best.value && is_on_top(shell, p)) best = {value, p};
            moved += dofs_per_node;
        }
    }
    const Extreme node = best;
    const Mesh& mesh = shell.mesh;
    constexpr double least_step = 0.01; // mm: sag is flat there, so it is right to some nine digits
    const double side = std::max(mesh.xs.back() - mesh.xs.front(), mesh.ys.back() - mesh.ys.front());
    best = pattern_search(best, side / 40, least_step, down);
    const Extreme edge = search_along(shell.field.outline, least_step, [&](Point p) {
        return cell_at(shell, p) < 0 ? -1e300 : -movement_at(shell, situation.dofs, p) - plane.at(p);
    });
    if (edge.value > best.value) best = edge;
    return {.value = best.value, .at = best.at, .node = node.at, .at_node = node.value};
}

std::vector<double> crossings(const ThicknessField& field, Point p, bool along_y) {
    std::vector<double> at;
    const auto add = [&](const Loop& loop) {
        for (const EdgePiece& piece : loop) {
            const auto v = along_y ? y_at(piece, p.x) : x_at(piece, p.y);
            if (v) at.push_back(*v);
        }
    };
    add(field.outline);
    for (const RecessPlan& recess : field.recesses) {
        add(recess.loop);
        for (const Loop& land : recess.lands) add(land);
    }
    std::sort(at.begin(), at.end());
    at.erase(std::unique(at.begin(), at.end(), [](double a, double b) { return b - a < 1e-6; }), at.end());
    return at;
}

namespace {

/// Reads dish at places, each against the rim across the shorter side of its recess (of a square, across the
/// grain) and along it.
struct DishReader {
    const Shell& shell;
    const ThicknessField& field;
    std::vector<char> along_y{};
    DishGrid grid{};
    std::map<std::pair<double, double>, size_t> known{};
    std::map<std::pair<bool, double>, std::vector<double>>
        crossed{}; ///< by the way of a line and where it runs

    explicit DishReader(const Shell& s) : shell(s), field(s.field) {
        for (const RecessPlan& recess : field.recesses) {
            const Rectangle box = bounds_of(recess.loop);
            const double wide = box.x1 - box.x0, deep = box.y1 - box.y0;
            const bool connection = std::abs(wide - deep) < 1e-9 * wide;
            // across the shorter side; of a square, across the grain
            along_y.push_back(connection
                                  ? std::abs(std::cos(shell.plane.grain_rad)) >= std::numbers::sqrt2 / 2
                                  : deep < wide);
        }
    }

    /// `node`: that the point is, or -1.
    void add(Point p, int node = -1) {
        const int region = region_at(field, p);
        if (region <= full_thickness) return;
        const bool y_way = along_y[static_cast<size_t>(region - 1)];
        if (const auto rim = chord(p, y_way))
            grid.points.push_back({.here = place(p, node),
                                   .rim = *rim,
                                   .other = along(p, region, !y_way),
                                   .recess = region - 1});
    }

    size_t place(Point p, int node = -1) {
        const auto [found, is_new] = known.try_emplace({p.x, p.y}, grid.places.size());
        if (is_new) grid.places.push_back({.at = p, .form = movement_form(shell, p), .node = node});
        return found->second;
    }
    Point at(size_t place) const { return grid.places[place].at; }

    /// The other way, where nothing but this recess lies between full thickness at both its ends: a land may
    /// sink with the skin, and a neighbouring recess is no rim.
    std::optional<DishPoint::Chord> along(Point p, int region, bool y_way) {
        const auto found = chord(p, y_way);
        if (!found) return std::nullopt;
        const Point low = at(found->low), high = at(found->high);
        if (region_at(field, low) != full_thickness || region_at(field, high) != full_thickness)
            return std::nullopt;
        const Rectangle box = bounds_of(field.recesses[static_cast<size_t>(region - 1)].loop);
        const bool spans = y_way ? low.y <= box.y0 && high.y >= box.y1 : low.x <= box.x0 && high.x >= box.x1;
        return spans ? found : std::nullopt;
    }

    /// Between the rims on both sides of a place.
    std::optional<DishPoint::Chord> chord(Point p, bool y_way) {
        const auto [line, is_new] = crossed.try_emplace({y_way, y_way ? p.x : p.y});
        if (is_new) line->second = crossings(field, p, y_way);
        const std::vector<double>& at = line->second;
        const double here = y_way ? p.y : p.x;
        const auto above = std::upper_bound(at.begin(), at.end(), here);
        if (above == at.begin() || above == at.end()) return std::nullopt;
        const auto below = above - 1;
        // the rim's middle; the edge itself where the recess is open there
        const auto rim = [&](std::vector<double>::const_iterator wall, bool up) {
            if (up ? wall + 1 == at.end() : wall == at.begin()) return *wall;
            const double next = up ? *(wall + 1) : *(wall - 1), middle = (*wall + next) / 2;
            const int there = region_at(field, y_way ? Point{p.x, middle} : Point{middle, p.y});
            return there == full_thickness ? middle : *wall;
        };
        const double low = rim(below, false), high = rim(above, true);
        if (here - low < 1e-6 || high - here < 1e-6) return std::nullopt;
        return DishPoint::Chord{.low = place(y_way ? Point{p.x, low} : Point{low, p.y}),
                                .high = place(y_way ? Point{p.x, high} : Point{high, p.y}),
                                .share = (here - low) / (high - low)};
    }
};

} // namespace

DishGrid dish_grid_at(const Shell& shell, Point at) {
    DishReader reader(shell);
    reader.add(at);
    return std::move(reader.grid);
}

DishGrid dish_grid(const Shell& shell) {
    DishReader reader(shell);
    // a mesh line may run along an edge, where the rim across is one thing on the left and another on the
    // right: read both
    constexpr double beside = 1e-5; // mm
    const int p = shell.order;
    for (int iy = 0; iy < shell.stiffness.grid.nodes_y(); ++iy) {
        for (int ix = 0; ix < shell.nodes_x(); ++ix) {
            const Point node = shell.node_point(shell.node(ix, iy));
            for (const double dx : {-beside, beside}) {
                for (const double dy : {-beside, beside}) {
                    if ((ix % p != 0 && dx > 0) || (iy % p != 0 && dy > 0)) continue;
                    reader.add({node.x + (ix % p == 0 ? dx : 0), node.y + (iy % p == 0 ? dy : 0)},
                               ix % p != 0 && iy % p != 0 ? shell.node(ix, iy) : -1);
                }
            }
        }
    }
    return std::move(reader.grid);
}

std::optional<Dish> dish_of(const Shell& shell, const DishGrid& grid, const SolvedSituation& situation) {
    std::vector<double> moved;
    moved.reserve(grid.places.size());
    std::vector<double> at_nodes; // w alone, side by side
    at_nodes.reserve(situation.dofs.size() / dofs_per_node);
    for (size_t i = 2; i < situation.dofs.size(); i += dofs_per_node) at_nodes.push_back(situation.dofs[i]);
    for (const DishGrid::SectionRegion& place : grid.places)
        moved.push_back(place.node >= 0 ? at_nodes[static_cast<size_t>(place.node)]
                                        : movement_at_nodes(shell, place.form, at_nodes));
    std::optional<Dish> most;
    for (size_t k = 0; k < grid.points.size(); ++k) {
        const DishPoint& point = grid.points[k];
        const double value = dish_at(point, [&](size_t place) { return moved[place]; });
        if (!most || std::abs(value) > std::abs(most->value))
            most = Dish{.value = value, .at = grid.places[point.here].at, .recess = point.recess, .point = k};
    }
    return most;
}

Movements movements_of(const Model& model, const SolvedSituation& situation, const DishGrid& grid) {
    const SupportPlane plane = support_plane(model, situation);
    return {.plane = plane,
            .sag = sag_of(model.shell, situation, plane),
            .dish = dish_of(model.shell, grid, situation)};
}

} // namespace hollowtop
