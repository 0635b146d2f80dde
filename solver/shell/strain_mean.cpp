// SPDX-License-Identifier: MIT
#include "solver/shell/strain_mean.hpp"

#include <algorithm>
#include <optional>

namespace hollowtop {
namespace {

/// Integrals over [a, b] of the polynomials of a line [low, high] and of their slopes; values and slopes at a
/// where b == a.
LineMean line_mean(int order, double low, double high, double a, double b) {
    LineMean mean;
    const double to_xi = 2 / (high - low);
    const auto n = static_cast<size_t>(order + 1);
    if (b <= a) {
        const Basis1d basis = lagrange_basis(order, (a - low) * to_xi - 1);
        for (size_t i = 0; i < n; ++i) {
            mean.value[i] = basis.value[i];
            mean.slope[i] = basis.slope[i] * to_xi;
        }
        return mean;
    }
    const Rule& rule = gauss_rule(order / 2 + 1);
    for (size_t q = 0; q < rule.points.size(); ++q) {
        const double x = a + (b - a) * (1 + rule.points[q]) / 2;
        const Basis1d basis = lagrange_basis(order, (x - low) * to_xi - 1);
        for (size_t i = 0; i < n; ++i) mean.value[i] += rule.weights[q] / 2 * (b - a) * basis.value[i];
    }
    const Basis1d at_a = lagrange_basis(order, (a - low) * to_xi - 1),
                  at_b = lagrange_basis(order, (b - low) * to_xi - 1);
    for (size_t i = 0; i < n; ++i) mean.slope[i] = at_b.value[i] - at_a.value[i];
    return mean;
}

/// The region that a point on the top belongs to; a point on an edge takes the side that is on the top.
int region_of_point(const Shell& shell, Point point) {
    const int region = region_at(shell.field, point);
    if (region != outside) return region;
    const double step = 1e-6 * shell.field.thickness;
    for (const double dx : {-step, 0.0, step}) {
        for (const double dy : {-step, 0.0, step}) {
            const int near = region_at(shell.field, {point.x + dx, point.y + dy});
            if (near != outside) return near;
        }
    }
    return outside;
}

void add_whole(StrainMean& mean, const Shell& shell, int cell_index, const Rectangle& part,
               const SectionRegion& place) {
    const Cell& cell = shell.mesh.cells[static_cast<size_t>(cell_index)];
    mean.parts.push_back(
        {.cell = cell_index,
         .leaf = leaf_index_at(shell, cell_index, {(part.x0 + part.x1) / 2, (part.y0 + part.y1) / 2}),
         .place = place,
         .x = line_mean(shell.order, cell.x0, cell.x1, part.x0, part.x1),
         .y = line_mean(shell.order, cell.y0, cell.y1, part.y0, part.y1),
         .nodes = {}});
}

/// What must lie apart in a square of that region: wall zones lie in full thickness alone.
Apart kept_apart(int region) { return region == full_thickness ? Apart::walls : Apart::regions; }

/// The part of a mean at one place of a cut cell.
StrainMean::Part& part_at(StrainMean& mean, int cell, int leaf, const SectionRegion& place, size_t n_nodes) {
    for (auto part = mean.parts.rbegin(); part != mean.parts.rend(); ++part)
        if (part->cell == cell && part->leaf == leaf && part->place == place) return *part;
    mean.parts.push_back({.cell = cell,
                          .leaf = leaf,
                          .place = place,
                          .x = {},
                          .y = {},
                          .nodes = std::vector<double>(3 * n_nodes, 0)});
    return mean.parts.back();
}

/// A cell that an edge crosses: quadrature over its true parts, of which only those of the square's region
/// count.
double add_cut(StrainMean& mean, const Shell& shell, int cell_index, const Rectangle& part, int region) {
    const Cell& cell = shell.mesh.cells[static_cast<size_t>(cell_index)];
    const auto n = static_cast<size_t>(shell.order + 1);
    const double to_xi = 2 / (cell.x1 - cell.x0), to_eta = 2 / (cell.y1 - cell.y0);
    std::vector<QuadraturePoint> points;
    if (part.x1 <= part.x0) { // a point
        SectionRegion place = section_region_at(shell.field, {part.x0, part.y0});
        if (place.region == outside) place = {.region = region};
        points.push_back({.x = part.x0, .y = part.y0, .weight = 1, .place = place});
    } else {
        points = cell_points_in(shell.field, cell, part, 3, kept_apart(region));
    }
    double area = 0;
    for (size_t first = 0, next = 0; first < points.size(); first = next) {
        const QuadraturePoint& q = points[first];
        next = first + 1;
        if (q.place.region != region) continue;
        // points follow one another along a line of the sweep: of the polynomials the other way one sum is
        // enough
        const auto is_on_line = [&](bool along_y) {
            return next < points.size() && points[next].place == q.place &&
                   (along_y ? points[next].x == q.x : points[next].y == q.y);
        };
        const bool along_y = is_on_line(true);
        Basis1d x{}, y{};
        const auto add = [&](Basis1d& sum, const Basis1d& basis, double weight) {
            for (size_t a = 0; a < n; ++a) {
                sum.value[a] += weight * basis.value[a];
                sum.slope[a] += weight * basis.slope[a];
            }
        };
        const auto x_basis = [&](double at) {
            return lagrange_basis_for_reading(shell.order, (at - cell.x0) * to_xi - 1);
        };
        const auto y_basis = [&](double at) {
            return lagrange_basis_for_reading(shell.order, (at - cell.y0) * to_eta - 1);
        };
        if (along_y)
            x = x_basis(q.x);
        else
            y = y_basis(q.y);
        for (size_t k = first;; k = next++) {
            if (along_y)
                add(y, y_basis(points[k].y), points[k].weight);
            else
                add(x, x_basis(points[k].x), points[k].weight);
            area += points[k].weight;
            if (!is_on_line(along_y)) break;
        }
        StrainMean::Part& into =
            part_at(mean, cell_index, leaf_index_at(shell, cell_index, {q.x, q.y}), q.place, n * n);
        double* const value = into.nodes.data();
        double *const dx = value + n * n, *const dy = dx + n * n;
        for (size_t b = 0, k = 0; b < n; ++b)
            for (size_t a = 0; a < n; ++a, ++k) {
                value[k] += x.value[a] * y.value[b];
                dx[k] += x.slope[a] * y.value[b] * to_xi;
                dy[k] += x.value[a] * y.slope[b] * to_eta;
            }
    }
    return area;
}

} // namespace

StrainMean strain_mean(const Shell& shell, Point point) {
    return strain_mean(shell, point, local_thickness(shell.field, region_of_point(shell, point), point));
}

StrainMean strain_mean(const Shell& shell, Point point, double side) {
    StrainMean mean{.at = point, .region = region_of_point(shell, point), .thickness = 0, .parts = {}};
    if (mean.region == outside) return mean;
    mean.thickness = local_thickness(shell.field, mean.region, point);
    const Mesh& mesh = shell.mesh;
    // a point on a mesh line stands on both sides of it
    const double half = side > 0 ? side / 2 : 1e-7 * mean.thickness;
    const Rectangle square{point.x - half, point.x + half, point.y - half, point.y + half};
    const int i0 = interval_of(mesh.xs, square.x0), i1 = interval_of(mesh.xs, square.x1);
    const int j0 = interval_of(mesh.ys, square.y0), j1 = interval_of(mesh.ys, square.y1);
    double area = 0;
    for (int j = j0; j <= j1; ++j) {
        for (int i = i0; i <= i1; ++i) {
            const int index = j * mesh.nx() + i;
            const Cell& cell = mesh.cell(i, j);
            if (!cell.active) continue;
            Rectangle part{std::max(square.x0, cell.x0), std::min(square.x1, cell.x1),
                           std::max(square.y0, cell.y0), std::min(square.y1, cell.y1)};
            if (part.x1 - part.x0 < 1e-9 * mean.thickness || part.y1 - part.y0 < 1e-9 * mean.thickness)
                continue;
            double weight = (part.x1 - part.x0) * (part.y1 - part.y0);
            if (side <= 0) {
                part = {std::clamp(point.x, cell.x0, cell.x1), 0, std::clamp(point.y, cell.y0, cell.y1), 0};
                part.x1 = part.x0;
                part.y1 = part.y0;
                weight = 1;
            }
            const std::optional<SectionRegion> place =
                !cell.cut  ? cell.place
                : side > 0 ? region_throughout(shell.field, part, kept_apart(mean.region))
                           : std::nullopt;
            if (place && place->region != mean.region) continue;
            if (place)
                add_whole(mean, shell, index, part, *place);
            else
                weight = add_cut(mean, shell, index, part, mean.region);
            area += weight;
        }
    }
    for (StrainMean::Part& part : mean.parts) {
        for (double& v : part.nodes) v /= area;
        for (double& v : part.x.value) v /= area;
        for (double& v : part.x.slope) v /= area;
    }
    return mean;
}

std::vector<StrainMean> survey_means(const Shell& shell, double sparse) {
    const Mesh& mesh = shell.mesh;
    std::vector<StrainMean> means;
    for (int j = 0; j < mesh.ny(); ++j) {
        for (int i = 0; i < mesh.nx(); ++i) {
            const Cell& cell = mesh.cell(i, j);
            if (!cell.active) continue;
            const Point centre{(cell.x0 + cell.x1) / 2, (cell.y0 + cell.y1) / 2};
            const double hx = (cell.x1 - cell.x0) / 2, hy = (cell.y1 - cell.y0) / 2;
            const double thickness = std::max(thickness_of(shell.field, region_at(shell.field, centre)),
                                              shell.field.thickness / 4);
            const auto ends_at = [&](int a, int b) { // stresses are steep beside a wall
                if (a < 0 || b < 0 || a >= mesh.nx() || b >= mesh.ny()) return true;
                const Cell& beside = mesh.cell(a, b);
                return !beside.active || (!beside.cut && beside.place.region != cell.place.region);
            };
            const auto steps = [&](double half, bool low_ends, bool high_ends) {
                if (2 * half >= sparse * thickness) return std::vector<double>{-0.9, 0, 0.9};
                if (sparse > 1) return std::vector<double>{0};
                std::vector<double> few;
                if (low_ends) few.push_back(-0.9);
                if (high_ends) few.push_back(0.9);
                return few.empty() ? std::vector<double>{0} : few;
            };
            for (const double b : steps(hy, ends_at(i, j - 1), ends_at(i, j + 1))) {
                for (const double a : steps(hx, ends_at(i - 1, j), ends_at(i + 1, j))) {
                    const Point p{centre.x + a * hx, centre.y + b * hy};
                    if (cell.cut && region_at(shell.field, p) == outside) continue;
                    StrainMean mean = strain_mean(shell, p);
                    if (!mean.parts.empty()) means.push_back(std::move(mean));
                }
            }
        }
    }
    return means;
}

} // namespace hollowtop
