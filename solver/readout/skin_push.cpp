// SPDX-License-Identifier: MIT
#include "solver/readout/skin_push.hpp"

#include "materials/push.hpp"
#include "solver/model/make_model.hpp"
#include "solver/readout/gather.hpp"
#include "solver/readout/movement.hpp"
#include "solver/shell/recovery.hpp"
#include "solver/situations/respond.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <span>
#include <utility>

namespace hollowtop {
namespace {

/// Every crossing of the line through `p` along x or y with a wall of the recess, the outline or a stiffener
/// under this skin, in order. A land is no hold: it floats.
std::vector<double> holds(const Piece& piece, const ThicknessField& field, Point p, int region,
                          bool along_y) {
    std::vector<double> at = crossings(field, p, along_y);
    const Loop& loop = field.recesses[static_cast<size_t>(region - 1)].loop;
    std::erase_if(at, [&](double v) {
        constexpr double beside = 1e-3; // mm
        const auto inside = [&](double q) {
            return is_inside(loop, along_y ? Point{p.x, q} : Point{q, p.y});
        };
        return inside(v - beside) && inside(v + beside);
    });
    for (const Stiffener& bar : piece.stiffeners) {
        const double from = along_y ? bar.from.x : bar.from.y, to = along_y ? bar.to.x : bar.to.y,
                     cut = along_y ? p.x : p.y;
        if (std::abs(to - from) < 1e-9 || (cut - from) * (cut - to) > 0) continue;
        const double share = (cut - from) / (to - from);
        const double crossing = along_y ? bar.from.y + share * (bar.to.y - bar.from.y)
                                        : bar.from.x + share * (bar.to.x - bar.from.x);
        if (region_at(field, along_y ? Point{p.x, crossing} : Point{crossing, p.y}) == region)
            at.push_back(crossing);
    }
    std::sort(at.begin(), at.end());
    return at;
}

/// A membrane over the bounding rectangle of a skin: values at the nodes, and how each hangs on its four
/// neighbours.
constexpr int n_cells = 32,
              n_nodes =
                  n_cells +
                  1; // even, so that the middle is a node; a side's nodes, of which the outer ones are held
struct Membrane {
    struct Node {
        double tension = 0; ///< 1 in the skin, that of its thickness in a land, none where the node is held
        std::array<double, 4> pull{}; ///< of the neighbours left, right, below, above; none from what holds
        double own = 0;
    };
    Rectangle box{};
    std::vector<Node> nodes = std::vector<Node>(n_nodes * n_nodes);
    std::vector<double> sag = std::vector<double>(n_nodes * n_nodes, 0);

    static size_t at(int i, int j) { return static_cast<size_t>(j * n_nodes + i); }
    Point place(double i, double j) const {
        return {box.x0 + (box.x1 - box.x0) * i / n_cells, box.y0 + (box.y1 - box.y0) * j / n_cells};
    }
};

/// Unequal steps to what holds: Shortley and Weller, J. Applied Physics 9, 1938.
void hang(Membrane& m, const Piece& piece, const ModelPlan& plan, int region, bool along_y) {
    const ThicknessField& field = plan.field;
    const double scale = along_y ? 1 : std::pow(plan.plane.Q[0] / plan.plane.Q[4], 0.25);
    const double step = (along_y ? m.box.y1 - m.box.y0 : m.box.x1 - m.box.x0) / n_cells;
    for (int line = 1; line < n_cells; ++line) {
        const std::vector<double> at =
            holds(piece, field, along_y ? m.place(line, 1) : m.place(1, line), region, along_y);
        for (int k = 1; k < n_cells; ++k) {
            const size_t node = along_y ? Membrane::at(line, k) : Membrane::at(k, line);
            if (!(m.nodes[node].tension > 0)) continue;
            const Point p = along_y ? m.place(line, k) : m.place(k, line);
            const double here = along_y ? p.y : p.x;
            const auto next = std::lower_bound(at.begin(), at.end(), here);
            std::array<double, 2> way{step, step};
            std::array<bool, 2> open{}, held{};
            const auto meet = [&](size_t side, double v) {
                if (std::abs(v - here) > (1 + 1e-9) * step)
                    return; // the outermost wall is a step away, to rounding
                way[side] = std::max(std::abs(v - here), 1e-3 * step);
                constexpr double beside = 1e-3; // mm
                const double beyond = side == 0 ? v - beside : v + beside;
                open[side] = region_at(field, along_y ? Point{p.x, beyond} : Point{beyond, p.y}) ==
                             outside; // a free edge holds nothing
                held[side] = !open[side];
            };
            if (next != at.begin()) meet(0, *(next - 1));
            if (next != at.end()) meet(1, *next);
            if (open[0]) way[0] = way[1];
            if (open[1]) way[1] = way[0];
            for (size_t side = 0; side < 2; ++side) {
                if (open[side]) continue;
                const size_t ahead = held[side] ? node
                                                : node + (side == 0 ? static_cast<size_t>(0) - 1 : 1) *
                                                             (along_y ? n_nodes : 1);
                const double mine = m.nodes[node].tension, its = m.nodes[ahead].tension,
                             between = its > 0 ? 2 * mine * its / (mine + its) : mine;
                const double pull =
                    between * (open[1 - side] ? 2 : 1) * 2 / (way[side] * (way[0] + way[1])) * scale * scale;
                m.nodes[node].own += pull;
                if (!held[side]) m.nodes[node].pull[(along_y ? 2 : 0) + side] = pull;
            }
        }
    }
}

/// Relaxes to rest under an even pressure (successive over-relaxation: Young 1954, the best factor for a
/// square of so many cells).
void relax(Membrane& m) {
    constexpr double over = 1.82;
    constexpr int most_rounds = 400;
    for (int round = 0; round < most_rounds; ++round) {
        double moved = 0, most = 0;
        for (int j = 1; j < n_cells; ++j)
            for (int i = 1; i < n_cells; ++i) {
                const Membrane::Node& node = m.nodes[Membrane::at(i, j)];
                if (!(node.own > 0)) continue;
                double& sag = m.sag[Membrane::at(i, j)];
                double pulled = 1;
                for (size_t k = 0; k < 4; ++k)
                    if (node.pull[k] > 0)
                        pulled += node.pull[k] * m.sag[Membrane::at(i + (k == 0   ? -1
                                                                         : k == 1 ? 1
                                                                                  : 0),
                                                                    j + (k == 2   ? -1
                                                                         : k == 3 ? 1
                                                                                  : 0))];
                const double change = over * (pulled / node.own - sag);
                sag += change;
                moved = std::max(moved, std::abs(change));
                most = std::max(most, sag);
            }
        if (moved < 1e-9 * most) break;
    }
}

/// Of all that sag as much, but for a trifle, the one nearest to the middle; then the top of a parabola
/// through its neighbours.
std::optional<Point> deepest_of(const Membrane& m) {
    double most = 0; // in the skin: a land is no weak place
    for (size_t k = 0; k < m.sag.size(); ++k)
        if (m.nodes[k].tension == 1) most = std::max(most, m.sag[k]);
    if (!(most > 0)) return std::nullopt;
    int bi = 0, bj = 0, nearest = 1 << 20;
    for (int j = 1; j < n_cells; ++j)
        for (int i = 1; i < n_cells; ++i) {
            const int di = i - n_cells / 2, dj = j - n_cells / 2;
            if (m.nodes[Membrane::at(i, j)].tension != 1 || m.sag[Membrane::at(i, j)] < (1 - 1e-3) * most ||
                di * di + dj * dj >= nearest)
                continue;
            bi = i, bj = j, nearest = di * di + dj * dj;
        }
    const auto top = [&](int di, int dj) {
        const auto value = [&](int i, int j) {
            return i > 0 && j > 0 && i < n_cells && j < n_cells ? m.sag[Membrane::at(i, j)] : 0;
        };
        const double low = value(bi - di, bj - dj), mid = value(bi, bj), high = value(bi + di, bj + dj),
                     bend = low - 2 * mid + high;
        return bend < -1e-3 * mid ? std::clamp(0.5 * (low - high) / bend, -0.5, 0.5) : 0;
    };
    return m.place(bi + top(1, 0), bj + top(0, 1));
}

/// The least distance between what holds the skin on either side of a place, over all directions; walls and
/// stiffeners hold, a land floats, a free edge holds nothing. None where nothing holds it on both sides.
std::optional<double> clear_width(const Piece& piece, const ThicknessField& field, Point p, int region) {
    const Loop& loop = field.recesses[static_cast<size_t>(region - 1)].loop;
    const double far = std::hypot(piece.top.length, piece.top.width);
    const auto held_at = [&](Point way) -> std::optional<double> {
        constexpr double step = 5;
        double on = 0, off = step;
        while (off < far && is_inside(loop, {p.x + off * way.x, p.y + off * way.y})) on = off, off += step;
        while (off - on > 1e-3) {
            const double middle = (on + off) / 2;
            (is_inside(loop, {p.x + middle * way.x, p.y + middle * way.y}) ? on : off) = middle;
        }
        double held =
            region_at(field, {p.x + (off + 1e-3) * way.x, p.y + (off + 1e-3) * way.y}) == outside ? far : on;
        for (const Stiffener& bar : piece.stiffeners) {
            const Point a{bar.from.x - p.x, bar.from.y - p.y}, b{bar.to.x - p.x, bar.to.y - p.y};
            const double side_a = way.x * a.y - way.y * a.x, side_b = way.x * b.y - way.y * b.x;
            if (side_a * side_b > 0 || side_a == side_b) continue;
            const double share = side_a / (side_a - side_b),
                         along = way.x * (a.x + share * (b.x - a.x)) + way.y * (a.y + share * (b.y - a.y));
            if (along > 0) held = std::min(held, along);
        }
        return held < far ? std::optional(held) : std::nullopt;
    };
    constexpr int ways =
        72; // half a turn in steps of 2.5 degrees: a width between parallel walls is right to 0.03 %
    std::optional<double> least;
    for (int k = 0; k < ways; ++k) {
        const double angle = std::numbers::pi * k / ways;
        const Point way{std::cos(angle), std::sin(angle)};
        const auto ahead = held_at(way), behind = held_at({-way.x, -way.y});
        if (ahead && behind) least = std::min(least.value_or(far), *ahead + *behind);
    }
    return least;
}

struct Placed {
    int recess;
    Point at;
    const materials::Push* push;
};

/// The piece under the pushes alone, each a load, held both ways.
Piece under_pushes(const Piece& piece, std::span<const Placed> placed) {
    Piece pushed = piece;
    pushed.self_weight = false;
    pushed.loads.clear();
    pushed.probes.clear();
    for (Support& support : pushed.supports)
        std::visit(
            [](auto& kind) {
                if constexpr (requires { kind.hold_down; }) kind.hold_down = true;
            },
            support.kind);
    for (const Placed& p : placed)
        pushed.loads.push_back({.name = p.push->name,
                                .duration = Duration::short_term,
                                .kind = PatchLoad{.force = p.push->force_N,
                                                  .at = p.at,
                                                  .size_x = p.push->size_mm,
                                                  .size_y = p.push->size_mm,
                                                  .over = {}}});
    return pushed;
}

} // namespace

std::vector<std::optional<Point>> weakest_places(const Piece& piece, const ModelPlan& plan) {
    std::vector<std::optional<Point>> places;
    for (size_t r = 0; r < plan.field.recesses.size(); ++r) {
        const int region = static_cast<int>(r) + 1;
        const RecessPlan& recess = plan.field.recesses[r];
        Membrane m{.box = bounds_of(recess.loop)};
        for (int j = 1; j < n_cells; ++j)
            for (int i = 1; i < n_cells; ++i) {
                const Point p = m.place(i, j);
                const bool skin = region_at(plan.field, p) == region;
                if (skin)
                    m.nodes[Membrane::at(i, j)].tension =
                        std::pow(local_thickness(plan.field, region, p) / recess.skin, 3);
                else if (is_inside(recess.loop, p))
                    m.nodes[Membrane::at(i, j)].tension = std::pow(plan.field.thickness / recess.skin, 3);
            }
        hang(m, piece, plan, region, false);
        hang(m, piece, plan, region, true);
        relax(m);
        places.push_back(deepest_of(m));
    }
    return places;
}

std::vector<SkinPush> push_skins(const Piece& piece, int threads) {
    if (piece.recesses.empty()) return {};
    return push_at(piece, weakest_places(piece, plan_model(piece, true)), threads);
}

namespace {

/// What one push does.
SkinPush answer_of(const Piece& piece, const Model& model, const SolvedSituation& s, const Placed& p,
                   TensionAcross tension) {
    SkinPush answer{.push = p.push->name,
                    .recess = piece.recesses[static_cast<size_t>(p.recess)].name,
                    .skin_mm = local_thickness(model.shell.field, p.recess + 1, p.at),
                    .at = p.at,
                    .force_N = p.push->force_N,
                    .size_mm = p.push->size_mm,
                    .dish_limit_mm = p.push->dish_limit_mm,
                    .duration = p.push->duration,
                    .pressure_MPa = p.push->force_N / (p.push->size_mm * p.push->size_mm),
                    .source = said("{} ({})", p.push->source, p.push->status)};
    if (p.push->width_over) {
        answer.clear_width_mm = clear_width(piece, model.shell.field, p.at, p.recess + 1);
        if (answer.clear_width_mm) answer.dish_limit_mm = *answer.clear_width_mm / *p.push->width_over;
    }
    if (const auto dish = dish_of(model.shell, dish_grid_at(model.shell, p.at), s))
        answer.dish_mm = dish->value;
    const StressSample under = stress_of(model.shell, strain_mean(model.shell, p.at), s.dofs);
    answer.stress_top_MPa = under.top;
    answer.stress_bottom_MPa = under.bottom;
    answer.tension_across = tension;
    answer.tension_across->mean_at = p.at;
    answer.tension_across->mean = std::max({under.top[1], under.bottom[1], 0.0});
    // the force has spread to mid-depth at 45 degrees, as a wheel's does in a deck
    const double half = (p.push->size_mm + answer.skin_mm) / 2;
    for (const Point side : {Point{half, 0}, {-half, 0}, {0, half}, {0, -half}}) {
        const StrainMean mean = strain_mean(model.shell, {p.at.x + side.x, p.at.y + side.y});
        if (mean.region != p.recess + 1) continue;
        const StressSample beside = stress_of(model.shell, mean, s.dofs);
        for (size_t k = 0; k < 2; ++k)
            answer.shear_MPa[k] = std::max(answer.shear_MPa[k], std::abs(beside.shear[k]));
    }
    return answer;
}

} // namespace

std::vector<SkinPush> push_at(const Piece& piece, const std::vector<std::optional<Point>>& places,
                              int threads, double fine) {
    std::vector<SkinPush> answers;
    // coarse away from the pushes: within 0.3 % of a mesh three times as fine and of order 4
    const double largest = std::max(piece.top.length, piece.top.width) / 8;
    ModelOptions options{
        .shell = {.size = {.largest = largest, .at_walls = largest, .at_edges = largest, .growth = 1},
                  .order = 3},
        .threads = threads,
        .bonded = false,
        .finer_at = {}};
    std::vector<Placed> placed;
    for (size_t r = 0; r < places.size(); ++r) {
        if (!places[r]) continue;
        options.finer_at.attractors_x.push_back({places[r]->x, fine});
        options.finer_at.attractors_y.push_back({places[r]->y, fine});
        for (const materials::Push& push : materials::pushes())
            placed.push_back({.recess = static_cast<int>(r), .at = *places[r], .push = &push});
    }
    constexpr size_t most_at_once =
        48; // fields over the whole top: what is held does not grow with the recesses
    std::optional<Model> model;
    std::optional<TensionPoints> points;
    for (size_t first = 0; first < placed.size(); first += most_at_once) {
        const std::span some =
            std::span{placed}.subspan(first, std::min(most_at_once, placed.size() - first));
        const Piece pushed = under_pushes(piece, some);
        if (model)
            change_loads(*model, pushed);
        else
            model = make_model(pushed, options);
        if (!points) points.emplace(model->shell, model->line_ends);
        const std::vector<SolvedSituation> solved = solve_situations(pushed, *model);
        std::vector<const SolvedSituation*> all;
        all.reserve(solved.size());
        for (const SolvedSituation& s : solved) all.push_back(&s);
        const std::vector<TensionAcross> tension = tension_across_in(model->shell, *points, all);
        for (size_t k = 0; k < solved.size(); ++k)
            if (const int passing = solved[k].plan.passing; passing >= 0) // else nothing stands
                answers.push_back(
                    answer_of(piece, *model, solved[k], some[static_cast<size_t>(passing)], tension[k]));
    }
    return answers;
}

} // namespace hollowtop
