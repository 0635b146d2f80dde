// SPDX-License-Identifier: MIT
#include "solver/shell/mesh.hpp"

#include "solver/shell/quadrature.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

namespace hollowtop {
namespace {

/// Does the monotone piece pass through the inside of the box (not merely along its edge)?
bool crosses(const EdgePiece& piece, const Rectangle& box, double tolerance) {
    const Rectangle b = bounds_of(piece);
    const Rectangle inner{box.x0 + tolerance, box.x1 - tolerance, box.y0 + tolerance, box.y1 - tolerance};
    if (b.x1 <= inner.x0 || b.x0 >= inner.x1 || b.y1 <= inner.y0 || b.y0 >= inner.y1) return false;
    const double left = std::max(b.x0, inner.x0), right = std::min(b.x1, inner.x1);
    const auto low = y_at(piece, left), high = y_at(piece, right);
    if (!low || !high) return true; // a vertical piece whose bounds overlap
    return std::max(*low, *high) > inner.y0 && std::min(*low, *high) < inner.y1;
}

/// The field as seen from inside a box: only the walls whose strips reach into it, so that places are found at less cost.
struct NearField {
    ThicknessField field;
    std::vector<int> wall_index; ///< of each wall in the whole field
};
NearField near_box(const ThicknessField& field, const Rectangle& box) {
    NearField nearby{.field = {.thickness = field.thickness, .outline = field.outline, .recesses = field.recesses, .walls = {}, .cuts = {}},
                     .wall_index = {}};
    for (size_t i = 0; i < field.walls.size(); ++i) {
        const Wall& wall = field.walls[i];
        const Rectangle b = bounds_of(wall.piece);
        if (b.x0 - wall.strip >= box.x1 || b.x1 + wall.strip <= box.x0 || b.y0 - wall.strip >= box.y1 || b.y1 + wall.strip <= box.y0) continue;
        nearby.field.walls.push_back(wall);
        nearby.wall_index.push_back(static_cast<int>(i));
    }
    return nearby;
}

void sort_and_merge(std::vector<double>& values, double tolerance) {
    std::sort(values.begin(), values.end());
    std::vector<double> kept;
    for (const double v : values)
        if (kept.empty() || v - kept.back() > tolerance) kept.push_back(v);
    values = std::move(kept);
}

/// Adds Gauss points of one vertical strip [x0, x1] x [y0, y1] of the cell, cut at the pieces.
void add_strip(const NearField& nearby, const std::vector<const EdgePiece*>& pieces, double x0, double x1, double y0,
               double y1, int n, std::vector<QuadraturePoint>& points) {
    const double middle = (x0 + x1) / 2;
    const bool curved = std::any_of(pieces.begin(), pieces.end(), [&](const EdgePiece* piece) {
        return piece->is_arc && y_at(*piece, middle).has_value();
    });
    // s -> 3 s^2 - 2 s^3 flattens the square-root start of an arc at its vertical tangent
    const Rule& rule = gauss_rule(curved ? n + 6 : n);
    const Rule& inner = gauss_rule(n);
    std::vector<double> breaks;
    for (size_t k = 0; k < rule.points.size(); ++k) {
        const double s = (1 + rule.points[k]) / 2;
        const double share = curved ? s * s * (3 - 2 * s) : s;
        const double slope = curved ? 6 * s * (1 - s) : 1;
        const double x = x0 + (x1 - x0) * share;
        const double weight_x = rule.weights[k] / 2 * slope * (x1 - x0);
        breaks.assign({y0, y1});
        for (const EdgePiece* piece : pieces) {
            const auto y = y_at(*piece, x);
            if (y && *y > y0 && *y < y1) breaks.push_back(*y);
        }
        sort_and_merge(breaks, 1e-12 * (y1 - y0));
        for (size_t b = 0; b + 1 < breaks.size(); ++b) {
            const double low = breaks[b], high = breaks[b + 1];
            const Place common = place_at(nearby.field, {x, (low + high) / 2});
            // beside a curved wall the direction across it differs from point to point
            const bool turns = common.wall >= 0 && !nearby.field.walls[static_cast<size_t>(common.wall)].straight;
            for (size_t m = 0; m < inner.points.size(); ++m) {
                const double y = low + (high - low) * (1 + inner.points[m]) / 2;
                Place place = turns ? place_at(nearby.field, {x, y}) : common;
                if (place.wall >= 0) place.wall = nearby.wall_index[static_cast<size_t>(place.wall)];
                points.push_back({.x = x, .y = y, .weight = weight_x * inner.weights[m] / 2 * (high - low), .place = place});
            }
        }
    }
}

} // namespace

int interval_of(const std::vector<double>& lines, double x) {
    const auto above = std::upper_bound(lines.begin(), lines.end(), x);
    const auto index = static_cast<int>(above - lines.begin()) - 1;
    return std::clamp(index, 0, static_cast<int>(lines.size()) - 2);
}

std::vector<double> graded_lines(std::vector<Attractor> hard, const std::vector<Attractor>& attractors,
                                 const MeshSize& size) {
    std::sort(hard.begin(), hard.end(), [](const Attractor& a, const Attractor& b) { return a.at < b.at; });
    std::vector<Attractor> merged;
    for (const Attractor& line : hard) {
        if (merged.empty() || line.at - merged.back().at > 1e-6) merged.push_back(line);
        else merged.back().size = std::min(merged.back().size, line.size);
    }
    const auto wanted = [&](double x) {
        double s = size.largest;
        for (const std::vector<Attractor>* list : {&std::as_const(merged), &attractors})
            for (const Attractor& attractor : *list)
                s = std::min(s, attractor.size + size.growth * std::abs(x - attractor.at));
        return s;
    };
    std::vector<double> lines{merged.front().at};
    for (size_t k = 0; k + 1 < merged.size(); ++k) {
        const double a = merged[k].at, b = merged[k + 1].at;
        // number of cells = integral of 1/size, by the midpoint rule on a fine even grid, symmetric under mirroring
        constexpr int n_steps = 200;
        std::vector<double> total(n_steps + 1, 0);
        const double step = (b - a) / n_steps;
        for (int i = 0; i < n_steps; ++i)
            total[static_cast<size_t>(i) + 1] = total[static_cast<size_t>(i)] + step / wanted(a + (i + 0.5) * step);
        const int cells = std::max(1, static_cast<int>(std::ceil(total.back() - 0.2)));
        for (int c = 1; c < cells; ++c) {
            const double target = total.back() * c / cells;
            const auto above = std::upper_bound(total.begin(), total.end(), target);
            const auto i = static_cast<size_t>(above - total.begin());
            const double share = (target - total[i - 1]) / (total[i] - total[i - 1]);
            lines.push_back(a + (static_cast<double>(i - 1) + share) * step);
        }
        lines.push_back(b);
    }
    return lines;
}

Mesh make_mesh(const ThicknessField& field, const MeshSize& size, const MeshWishes& wishes) {
    const Rectangle box = bounds_of(field.outline);
    std::vector<Attractor> hard_x{{box.x0, size.at_edges}, {box.x1, size.at_edges}};
    std::vector<Attractor> hard_y{{box.y0, size.at_edges}, {box.y1, size.at_edges}};
    std::vector<Attractor> attractors_x = wishes.attractors_x, attractors_y = wishes.attractors_y;
    const auto add = [](std::vector<Attractor>& hard, double value, double low, double high, double wanted) {
        if (value > low && value < high) hard.push_back({value, wanted});
    };
    bool has_slanted_edges = false;
    for (const EdgePiece& piece : field.cuts) {
        const Rectangle b = bounds_of(piece);
        // ends of strips only bound softened rim; a mesh line for them would cross the whole top for nothing
        if (!piece.is_arc && b.x1 - b.x0 < 1e-9 && b.y1 - b.y0 > 30) add(hard_x, b.x0, box.x0, box.x1, size.at_walls);
        else if (!piece.is_arc && b.y1 - b.y0 < 1e-9 && b.x1 - b.x0 > 30) add(hard_y, b.y0, box.y0, box.y1, size.at_walls);
        else if (b.x1 - b.x0 > 60 && b.y1 - b.y0 > 1e-9) has_slanted_edges = true;
    }
    for (const double x : wishes.lines_x) add(hard_x, x, box.x0, box.x1, size.at_edges);
    for (const double y : wishes.lines_y) add(hard_y, y, box.y0, box.y1, size.at_edges);
    MeshSize chosen = size;
    if (has_slanted_edges) chosen.largest = std::min(chosen.largest, std::min(box.x1 - box.x0, box.y1 - box.y0) / 12);
    Mesh mesh;
    mesh.xs = graded_lines(hard_x, attractors_x, chosen);
    mesh.ys = graded_lines(hard_y, attractors_y, chosen);
    for (int j = 0; j < mesh.ny(); ++j) {
        for (int i = 0; i < mesh.nx(); ++i) {
            const auto a = static_cast<size_t>(i), b = static_cast<size_t>(j);
            Cell cell{.x0 = mesh.xs[a], .x1 = mesh.xs[a + 1], .y0 = mesh.ys[b], .y1 = mesh.ys[b + 1]};
            const Rectangle r{cell.x0, cell.x1, cell.y0, cell.y1};
            const double tolerance = 1e-7 * std::min(cell.x1 - cell.x0, cell.y1 - cell.y0);
            cell.cut = std::any_of(field.cuts.begin(), field.cuts.end(),
                                   [&](const EdgePiece& piece) { return crosses(piece, r, tolerance); });
            if (cell.cut) {
                const auto points = cell_points(field, cell, 2);
                cell.active = std::any_of(points.begin(), points.end(),
                                          [](const QuadraturePoint& q) { return q.place.region != outside; });
            } else {
                cell.place = place_at(field, {(cell.x0 + cell.x1) / 2, (cell.y0 + cell.y1) / 2});
                cell.active = cell.place.region != outside;
            }
            mesh.cells.push_back(cell);
        }
    }
    return mesh;
}

std::vector<QuadraturePoint> cell_points(const ThicknessField& field, const Cell& cell, int n) {
    return cell_points_in(field, cell, {cell.x0, cell.x1, cell.y0, cell.y1}, n);
}

std::vector<QuadraturePoint> cell_points_in(const ThicknessField& field, const Cell& cell, const Rectangle& box, int n) {
    const Rectangle part{std::max(cell.x0, box.x0), std::min(cell.x1, box.x1), std::max(cell.y0, box.y0),
                         std::min(cell.y1, box.y1)};
    std::vector<QuadraturePoint> points;
    if (part.x1 <= part.x0 || part.y1 <= part.y0) return points;
    if (!cell.cut) {
        const Rule& rule = gauss_rule(n);
        for (size_t b = 0; b < rule.points.size(); ++b)
            for (size_t a = 0; a < rule.points.size(); ++a)
                points.push_back({.x = part.x0 + (part.x1 - part.x0) * (1 + rule.points[a]) / 2,
                                  .y = part.y0 + (part.y1 - part.y0) * (1 + rule.points[b]) / 2,
                                  .weight = rule.weights[a] * rule.weights[b] / 4 * (part.x1 - part.x0) * (part.y1 - part.y0),
                                  .place = cell.place});
        return points;
    }
    const double tolerance = 1e-9 * std::min(part.x1 - part.x0, part.y1 - part.y0);
    std::vector<const EdgePiece*> pieces;
    std::vector<double> breaks{part.x0, part.x1};
    for (const EdgePiece& piece : field.cuts) {
        if (!crosses(piece, part, tolerance)) continue;
        pieces.push_back(&piece);
        for (const double x : {piece.a.x, piece.b.x})
            if (x > part.x0 && x < part.x1) breaks.push_back(x);
        for (const double y : {part.y0, part.y1}) {
            const auto x = x_at(piece, y);
            if (x && *x > part.x0 && *x < part.x1) breaks.push_back(*x);
        }
    }
    sort_and_merge(breaks, tolerance);
    const NearField nearby = near_box(field, part);
    for (size_t k = 0; k + 1 < breaks.size(); ++k)
        add_strip(nearby, pieces, breaks[k], breaks[k + 1], part.y0, part.y1, n, points);
    return points;
}

} // namespace hollowtop
