// SPDX-License-Identifier: MIT
#include "solver/shell/tension_across.hpp"

#include "materials/assert.hpp"
#include "solver/numeric/quadrature.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <memory>
#include <utility>

namespace hollowtop {
namespace {

constexpr size_t n_abreast = 8;
using Abreast = Eigen::Array<double, static_cast<int>(n_abreast), 1>;
constexpr size_t most_nodes = (max_order + 1) * (max_order + 1);

/// Tension across the grain at a depth as a form in [e0; k; gamma] of the wood.
std::array<double, 8> tension_form(const PlaneStiffness& plane, double z) {
    const double c = plane.grain.x, s = plane.grain.y;
    std::array<double, 8> form{};
    for (size_t i = 0; i < 3; ++i) {
        form[i] = s * s * plane.Q[i] + c * c * plane.Q[3 + i] - 2 * s * c * plane.Q[6 + i];
        form[3 + i] = z * form[i];
    }
    return form;
}

std::array<double, 8> through(const std::array<double, 8>& form, const Matrix8& wood) {
    std::array<double, 8> of{};
    for (size_t r = 0; r < 8; ++r)
        for (size_t c = 0; c < 8; ++c) of[c] += form[r] * wood[8 * r + c];
    return of;
}

/// A face's tension as P,x + R,y + T of nodal values.
struct Nodal {
    std::array<Abreast, most_nodes> P, R, T;
};

struct FacesNodal {
    Nodal top, bottom;
};

/// mean_through_thickness of several fields.
Abreast through_thickness(const Abreast& top, const Abreast& bottom, int m) {
    const Abreast t = top.max(0.0), b = bottom.max(0.0);
    Abreast sum = Abreast::Ones(), power = Abreast::Ones(); // sum of t^i b^(k-i), b^k
    for (int k = 1; k <= m; ++k) {
        power *= b;
        sum = sum * t + power;
    }
    const Abreast p = t.max(b);
    Abreast high = p;
    for (int k = 1; k <= m; ++k) high *= p;
    const Abreast apart = (top - bottom).abs();
    const auto both = top.min(bottom) >= 0.0;
    return both.select(sum, high / (apart > 0.0).select(apart, Abreast::Ones())) / (m + 1);
}

} // namespace

double mean_through_thickness(double top, double bottom, int m) {
    return through_thickness(Abreast::Constant(top), Abreast::Constant(bottom), m)[0];
}

namespace {
/// Of an uneven skin in steps of a twentieth of a millimetre: each has a form of its own.
double stepped_thickness(const ThicknessField& field, int region, Point at) {
    constexpr double step = 0.05; // mm
    if (!is_uneven(field, region)) return thickness_of(field, region);
    return std::max(step, step * std::round(local_thickness(field, region, at) / step));
}
} // namespace

size_t TensionPoints::form_of(const Shell& shell, const SectionRegion& place, Point at) {
    const double thickness = stepped_thickness(shell.field, place.region, at);
    const auto [known_form, is_new] = known_forms_.try_emplace({place, thickness}, forms_.size());
    if (!is_new) return known_form->second;
    Form form{.thickness = thickness,
              .top = tension_form(shell.plane, shell.reference_depth),
              .bottom = tension_form(shell.plane, shell.reference_depth - thickness),
              .plain = place.wall < 0};
    if (!form.plain) {
        const auto known = shell.sections.find(place);
        const Section section = known != shell.sections.end()
                                    ? known->second
                                    : section_at(shell.field, shell.plane, place, shell.reference_depth);
        form.top = through(form.top, section.wood);
        form.bottom = through(form.bottom, section.wood);
    }
    const double share = stiffness_share(shell.field, place);
    for (auto* face : {&form.top, &form.bottom})
        for (double& value : *face) value *= share;
    forms_.push_back(form);
    return forms_.size() - 1;
}

namespace {

/// Of each of the lines at those places of a cell from `low` to `high`: the polynomials' values, then their slopes.
void fill_lines(int order, double low, double high, std::span<const double> at, std::vector<double>& lines) {
    const double to_xi = 2 / (high - low);
    const auto n = static_cast<std::ptrdiff_t>(order + 1);
    lines.clear();
    for (const double x : at) {
        const Basis1d basis = lagrange_basis_for_reading(order, (x - low) * to_xi - 1);
        lines.insert(lines.end(), basis.value.begin(), basis.value.begin() + n);
        for (std::ptrdiff_t k = 0; k < n; ++k) lines.push_back(basis.slope[static_cast<size_t>(k)] * to_xi);
    }
}

} // namespace

void TensionPoints::add_whole(const Shell& shell, int index, const SectionRegion& place, int n) {
    const Cell& cell = shell.mesh.cells[static_cast<size_t>(index)];
    const Rule& rule = gauss_rule(n);
    const auto count = static_cast<size_t>(n);
    if (is_uneven(shell.field, place.region)) {
        add_cut(shell, index, cell_points(shell.field, cell, n, Apart::regions));
        return;
    }
    Block block{.cell = index,
                .leaf = leaf_index_at(shell, index, {(cell.x0 + cell.x1) / 2, (cell.y0 + cell.y1) / 2}),
                .form = form_of(shell, place, {}),
                .first_x = at_.size(),
                .n_x = count,
                .first_y = at_.size() + count,
                .n_y = count,
                .first_weight = weights_.size()};
    for (const double xi : rule.points) at_.push_back(cell.x0 + (cell.x1 - cell.x0) * (1 + xi) / 2);
    for (const double xi : rule.points) at_.push_back(cell.y0 + (cell.y1 - cell.y0) * (1 + xi) / 2);
    for (const double v : rule.weights)
        for (const double u : rule.weights)
            weights_.push_back(u * v / 4 * (cell.x1 - cell.x0) * (cell.y1 - cell.y0));
    blocks_.push_back(block);
}

/// Points follow one another along the lines of a sweep: each line is a block of one row or one column.
void TensionPoints::add_cut(const Shell& shell, int index, std::span<const QuadraturePoint> points) {
    for (size_t first = 0, next = 0; first < points.size(); first = next) {
        const QuadraturePoint& q = points[first];
        next = first + 1;
        const int leaf = leaf_index_at(shell, index, {q.x, q.y});
        const auto is_on = [&](bool along_y) {
            return next < points.size() && points[next].place == q.place &&
                   (along_y ? points[next].x == q.x : points[next].y == q.y) &&
                   leaf_index_at(shell, index, {points[next].x, points[next].y}) == leaf;
        };
        const bool along_y = is_on(true);
        while (!is_uneven(shell.field, q.place.region) && is_on(along_y)) ++next;
        const size_t count = next - first, line = at_.size();
        Block block{.cell = index,
                    .leaf = leaf,
                    .form = form_of(shell, q.place, {q.x, q.y}),
                    .first_x = line,
                    .n_x = along_y ? 1 : count,
                    .first_y = line + (along_y ? 1 : count),
                    .n_y = along_y ? count : 1,
                    .first_weight = weights_.size()};
        for (size_t k = 0; k < block.n_x; ++k) at_.push_back(points[first + k].x);
        for (size_t k = 0; k < block.n_y; ++k) at_.push_back(points[first + k].y);
        for (size_t k = 0; k < count; ++k) weights_.push_back(points[first + k].weight);
        blocks_.push_back(block);
    }
}

TensionPoints::TensionPoints(const Shell& shell, std::span<const Point> line_ends, bool brief)
    : left_(left_out(shell.field, line_ends)) {
    const LeftOut& left = left_;
    // walls lie inside what is left out; zones of rim that reach further, and walls without any, are told
    // apart by their own edges
    ThicknessField field = shell.field;
    const bool all_inside =
        !field.walls.empty() &&
        std::all_of(left.walls.begin(), left.walls.end(), [&](const LeftOut::Beside& one) {
            return field.walls[static_cast<size_t>(one.wall)].zone <= one.thick_side && one.thin_side > 0;
        });
    if (all_inside) {
        field.cuts = field.outline;
        field.cuts.insert(field.cuts.end(), field.glue_lines.begin(), field.glue_lines.end());
    }
    field.cuts.insert(field.cuts.end(), left.edges.begin(), left.edges.end());
    note_cuts(field);
    const int whole = brief ? shell.order : shell.order + 1;
    constexpr std::size_t many_walls = 4; // of a curve in chords: the sweep's zones are narrow
    for (int index = 0; index < static_cast<int>(shell.mesh.cells.size()); ++index) {
        const Cell& cell = shell.mesh.cells[static_cast<size_t>(index)];
        if (!cell.active) continue;
        const LeftOutNear near = near_of(left, field, {cell.x0, cell.x1, cell.y0, cell.y1});
        if (near.empty() && !cell.cut) {
            add_whole(shell, index, cell.place, whole);
            continue;
        }
        Cell crossed = cell;
        crossed.cut = true;
        std::vector<QuadraturePoint> points =
            cell_points(field, crossed, brief || near.walls.size() > many_walls ? 2 : 3);
        std::erase_if(points, [&](const QuadraturePoint& q) {
            return q.place.region == outside ||
                   is_left_out(left, field, near, {q.x, q.y}, thickness_of(field, q.place.region));
        });
        add_cut(shell, index, points);
    }
    for (const Block& block : blocks_)
        for (size_t k = 0; k < block.n_x * block.n_y; ++k)
            volume_ += weights_[block.first_weight + k] * forms_[block.form].thickness;
}

bool TensionPoints::holds(const Shell& shell, Point at) const {
    const int region = region_at(shell.field, at);
    if (region == outside) return false;
    const LeftOutNear near = near_of(left_, shell.field, {at.x, at.x, at.y, at.y});
    return near.empty() ||
           !is_left_out(left_, shell.field, near, at, local_thickness(shell.field, region, at));
}

std::vector<TensionAcross> TensionPoints::of(const Shell& shell, int exponent,
                                             std::span<const std::span<const double>> fields) const {
    std::vector<TensionAcross> sums(fields.size());
    for (size_t first = 0; first < fields.size(); first += n_abreast) {
        const size_t count = std::min(n_abreast, fields.size() - first);
        add_fields(shell, exponent, fields.subspan(first, count), std::span{sums}.subspan(first, count));
    }
    return sums;
}

void TensionPoints::add_fields(const Shell& shell, int exponent,
                               std::span<const std::span<const double>> fields,
                               std::span<TensionAcross> sums) const {
    HOLLOWTOP_ASSERT(fields.size() <= n_abreast && exponent > 0);
    const auto n = static_cast<size_t>(shell.order + 1);
    const auto nodes = std::make_unique<FacesNodal>();
    Abreast total = Abreast::Zero(), most = Abreast::Zero();
    struct Where {
        Point at{};
        double thickness = 0, peak = 0;
    };
    std::array<Where, n_abreast> where{};
    std::vector<double> lines_x, lines_y; // of the block
    int cell = -1, leaf = -1;
    size_t form = 0;
    const auto gather = [&](const Block& block) {
        const CellNodes nodes_of_cell = cell_nodes(shell, block.cell, block.leaf);
        const Form& of = forms_[block.form];
        for (size_t k = 0; k < n * n; ++k) {
            const auto dof =
                static_cast<size_t>(nodes_of_cell(static_cast<int>(k % n), static_cast<int>(k / n))) *
                dofs_per_node;
            std::array<Abreast, dofs_per_node> d;
            for (size_t c = 0; c < d.size(); ++c) {
                d[c].setZero();
                for (size_t lane = 0; lane < fields.size(); ++lane)
                    d[c][static_cast<Eigen::Index>(lane)] = fields[lane][dof + c];
            }
            // e = u,x  v,y  u,y + v,x  bx,x  by,y  bx,y + by,x  w,x + bx  w,y + by
            const auto fill = [&](const std::array<double, 8>& a, Nodal& face) {
                face.P[k] = a[0] * d[0] + a[2] * d[1] + a[3] * d[3] + a[5] * d[4];
                face.R[k] = a[2] * d[0] + a[1] * d[1] + a[5] * d[3] + a[4] * d[4];
                if (of.plain) return;
                face.P[k] += a[6] * d[2];
                face.R[k] += a[7] * d[2];
                face.T[k] = a[6] * d[3] + a[7] * d[4];
            };
            fill(of.top, nodes->top);
            fill(of.bottom, nodes->bottom);
        }
    };
    std::array<Abreast, max_order + 1> along_y_top, across_y_top, along_y_bottom,
        across_y_bottom; // what stands on a column of nodes' value and slope
    for (const Block& block : blocks_) {
        if (block.cell != cell || block.leaf != leaf || block.form != form || &block == blocks_.data()) {
            gather(block);
            cell = block.cell;
            leaf = block.leaf;
            form = block.form;
        }
        const Form& of = forms_[block.form];
        const Cell& within = shell.mesh.cells[static_cast<size_t>(block.cell)];
        const std::span<const double> all{at_};
        fill_lines(shell.order, within.x0, within.x1, all.subspan(block.first_x, block.n_x), lines_x);
        fill_lines(shell.order, within.y0, within.y1, all.subspan(block.first_y, block.n_y), lines_y);
        for (size_t ix = 0; ix < block.n_x; ++ix) {
            const double *const value = lines_x.data() + ix * 2 * n, *const slope = value + n;
            const auto sum_rows = [&](const Nodal& face, std::array<Abreast, max_order + 1>& on_value,
                                      std::array<Abreast, max_order + 1>& on_slope) {
                for (size_t b = 0; b < n; ++b) {
                    Abreast v = slope[0] * face.P[b * n], s = value[0] * face.R[b * n];
                    for (size_t a = 1; a < n; ++a) {
                        v += slope[a] * face.P[b * n + a];
                        s += value[a] * face.R[b * n + a];
                    }
                    if (!of.plain)
                        for (size_t a = 0; a < n; ++a) v += value[a] * face.T[b * n + a];
                    on_value[b] = v;
                    on_slope[b] = s;
                }
            };
            sum_rows(nodes->top, along_y_top, across_y_top);
            sum_rows(nodes->bottom, along_y_bottom, across_y_bottom);
            for (size_t iy = 0; iy < block.n_y; ++iy) {
                const double *const v = lines_y.data() + iy * 2 * n, *const s = v + n;
                Abreast top = v[0] * along_y_top[0] + s[0] * across_y_top[0],
                        bottom = v[0] * along_y_bottom[0] + s[0] * across_y_bottom[0];
                for (size_t b = 1; b < n; ++b) {
                    top += v[b] * along_y_top[b] + s[b] * across_y_top[b];
                    bottom += v[b] * along_y_bottom[b] + s[b] * across_y_bottom[b];
                }
                const Abreast density =
                    of.thickness * through_thickness(top, bottom, exponent); // of a unit of area
                total += weights_[block.first_weight + iy * block.n_x + ix] * density;
                constexpr double surely = 1 + 1e-6; // of mirror images the first
                const Abreast greater = top.max(bottom);
                if (!(greater > surely * most).any()) continue;
                for (size_t lane = 0; lane < fields.size(); ++lane) {
                    const auto l = static_cast<Eigen::Index>(lane);
                    if (!(greater[l] > surely * most[l])) continue;
                    most[l] = greater[l];
                    where[lane] = {.at = {at_[block.first_x + ix], at_[block.first_y + iy]},
                                   .thickness = of.thickness,
                                   .peak = greater[l]};
                }
            }
        }
    }
    for (size_t lane = 0; lane < fields.size(); ++lane)
        sums[lane] = {.norm = std::pow(total[static_cast<Eigen::Index>(lane)], 1.0 / exponent),
                      .exponent = exponent,
                      .at = where[lane].at,
                      .thickness = where[lane].thickness,
                      .peak = where[lane].peak};
}

} // namespace hollowtop
