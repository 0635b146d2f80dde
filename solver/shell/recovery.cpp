// SPDX-License-Identifier: MIT
#include "solver/shell/recovery.hpp"

#include "materials/assert.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>

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
    mean.parts.push_back({.cell = cell_index,
                          .place = place,
                          .x = line_mean(shell.order, cell.x0, cell.x1, part.x0, part.x1),
                          .y = line_mean(shell.order, cell.y0, cell.y1, part.y0, part.y1),
                          .nodes = {}});
}

/// Strips of reduced rim lie in full thickness alone.
Apart told_apart(int region) { return region == full_thickness ? Apart::walls : Apart::regions; }

/// The part of a mean at one place of a cut cell.
StrainMean::Part& part_at(StrainMean& mean, int cell, const SectionRegion& place, size_t n_nodes) {
    for (auto part = mean.parts.rbegin(); part != mean.parts.rend(); ++part)
        if (part->cell == cell && part->place == place) return *part;
    mean.parts.push_back(
        {.cell = cell, .place = place, .x = {}, .y = {}, .nodes = std::vector<double>(3 * n_nodes, 0)});
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
        points = cell_points_in(shell.field, cell, part, 3, told_apart(region));
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
        StrainMean::Part& into = part_at(mean, cell_index, q.place, n * n);
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

MovementForm movement_form(const Shell& shell, Point point) {
    MovementForm form{.cell = cell_at(shell, point)};
    if (form.cell < 0) return form;
    const Cell& cell = shell.mesh.cells[static_cast<size_t>(form.cell)];
    form.x = lagrange_basis(shell.order, (point.x - cell.x0) * (2 / (cell.x1 - cell.x0)) - 1).value;
    form.y = lagrange_basis(shell.order, (point.y - cell.y0) * (2 / (cell.y1 - cell.y0)) - 1).value;
    return form;
}

namespace {

/// w(k) tells the upward movement of node k.
template <class Movement>
double movement_with(const Shell& shell, const MovementForm& form, const Movement& w) {
    if (form.cell < 0) return 0;
    const int i = form.cell % shell.mesh.nx(), j = form.cell / shell.mesh.nx(), p = shell.order;
    double movement = 0;
    for (int b = 0; b <= p; ++b) {
        const auto first = static_cast<size_t>(shell.node(i * p, j * p + b));
        double along_x = 0;
        for (size_t a = 0; a <= static_cast<size_t>(p); ++a) along_x += form.x[a] * w(first + a);
        movement += form.y[static_cast<size_t>(b)] * along_x;
    }
    return movement;
}

} // namespace

double movement_of(const Shell& shell, const MovementForm& form, std::span<const double> dofs) {
    return movement_with(shell, form, [&](size_t node) { return dofs[node * dofs_per_node + 2]; });
}

double movement_at_nodes(const Shell& shell, const MovementForm& form, std::span<const double> w) {
    return movement_with(shell, form, [&](size_t node) { return w[node]; });
}

double movement_at(const Shell& shell, std::span<const double> dofs, Point point) {
    return movement_of(shell, movement_form(shell, point), dofs);
}

StrainMean strain_mean(const Shell& shell, Point point) {
    return strain_mean(shell, point, thickness_of(shell.field, region_of_point(shell, point)));
}

StrainMean strain_mean(const Shell& shell, Point point, double side) {
    StrainMean mean{.at = point, .region = region_of_point(shell, point), .thickness = 0, .parts = {}};
    if (mean.region == outside) return mean;
    mean.thickness = thickness_of(shell.field, mean.region);
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
                : side > 0 ? region_throughout(shell.field, part, told_apart(mean.region))
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

namespace {

/// Fields that are read side by side.
constexpr size_t n_lanes = FieldsAbreast::group_size;
using Lanes = Eigen::Array<double, static_cast<int>(n_lanes), 1>;

/// The first dof, value and slopes of each node's polynomial in a part of a mean.
template <class See> void each_node(const Shell& shell, const StrainMean::Part& part, const See& see) {
    const int p = shell.order, i = part.cell % shell.mesh.nx(), j = part.cell / shell.mesh.nx();
    const bool is_product = part.nodes.empty();
    const auto n_nodes = static_cast<size_t>((p + 1) * (p + 1));
    const double* const value = part.nodes.data();
    const double *const along_x = is_product ? nullptr : value + n_nodes, *const along_y =
                                                                              is_product ? nullptr
                                                                                         : along_x + n_nodes;
    size_t k = 0;
    for (int b = 0; b <= p; ++b) {
        size_t dof = static_cast<size_t>(shell.node(i * p, j * p + b)) * dofs_per_node;
        for (int a = 0; a <= p; ++a, ++k, dof += dofs_per_node) {
            const auto ia = static_cast<size_t>(a), ib = static_cast<size_t>(b);
            if (is_product)
                see(dof, part.x.value[ia] * part.y.value[ib], part.x.slope[ia] * part.y.value[ib],
                    part.x.value[ia] * part.y.slope[ib]);
            else
                see(dof, value[k], along_x[k], along_y[k]);
        }
    }
}

/// The wood's strains for those of the section: shows `use` the 8 x 8 matrix. Not called where the two are
/// the same.
template <class Use> void with_wood_of(const Shell& shell, const StrainMean::Part& part, const Use& use) {
    if (part.place.wall < 0) return;
    // a finer quadrature may meet a direction beside a curved wall that the stiffness did not
    const auto known = shell.sections.find(part.place);
    if (known != shell.sections.end())
        use(known->second.wood);
    else
        use(section_at(shell.field, shell.plane, part.place, shell.reference_depth).wood);
}

/// Adds the strains of a part that is a product of forms along x and y: sums along x first. `Value` as in
/// strains_in.
template <class Value> void add_product(const Shell& shell, const StrainMean::Part& part, const Value* dofs,
                                        std::array<Value, 8>& e) {
    const int p = shell.order, i = part.cell % shell.mesh.nx(), j = part.cell / shell.mesh.nx();
    for (int b = 0; b <= p; ++b) {
        const Value* node = dofs + static_cast<size_t>(shell.node(i * p, j * p + b)) * dofs_per_node;
        const double v0 = part.x.value[0], d0 = part.x.slope[0];
        Value u = v0 * node[0], v = v0 * node[1], w = v0 * node[2], bx = v0 * node[3], by = v0 * node[4];
        Value du = d0 * node[0], dv = d0 * node[1], dw = d0 * node[2], dbx = d0 * node[3], dby = d0 * node[4];
        for (int a = 1; a <= p; ++a) {
            node += dofs_per_node;
            const double value = part.x.value[static_cast<size_t>(a)],
                         slope = part.x.slope[static_cast<size_t>(a)];
            u += value * node[0];
            v += value * node[1];
            w += value * node[2];
            bx += value * node[3];
            by += value * node[4];
            du += slope * node[0];
            dv += slope * node[1];
            dw += slope * node[2];
            dbx += slope * node[3];
            dby += slope * node[4];
        }
        const double value = part.y.value[static_cast<size_t>(b)],
                     slope = part.y.slope[static_cast<size_t>(b)];
        e[0] += value * du;
        e[1] += slope * v;
        e[2] += slope * u + value * dv;
        e[3] += value * dbx;
        e[4] += slope * by;
        e[5] += slope * bx + value * dby;
        e[6] += value * (dw + bx);
        e[7] += slope * w + value * by;
    }
}

/// The same of a part with a number for each node.
template <class Value>
void add_nodes(const Shell& shell, const StrainMean::Part& part, const Value* dofs, std::array<Value, 8>& e) {
    each_node(shell, part, [&](size_t dof, double v, double dx, double dy) {
        const Value* node = dofs + dof;
        e[0] += dx * node[0];
        e[1] += dy * node[1];
        e[2] += dy * node[0] + dx * node[1];
        e[3] += dx * node[3];
        e[4] += dy * node[4];
        e[5] += dy * node[3] + dx * node[4];
        e[6] += dx * node[2] + v * node[3];
        e[7] += dy * node[2] + v * node[4];
    });
}

/// `Value` is a number, or Lanes of several fields; `dofs` one of them a dof.
template <class Value> std::array<Value, 8> strains_in(const Shell& shell, const StrainMean& mean,
                                                       const Value* dofs, const Value& zero) {
    std::array<Value, 8> total;
    total.fill(zero);
    const auto add = [&](const StrainMean::Part& part, std::array<Value, 8>& e) {
        if (part.nodes.empty())
            add_product(shell, part, dofs, e);
        else
            add_nodes(shell, part, dofs, e);
    };
    for (const StrainMean::Part& part : mean.parts) {
        if (part.place.wall < 0) {
            add(part, total);
            continue;
        }
        std::array<Value, 8> e;
        e.fill(zero);
        add(part, e);
        with_wood_of(shell, part, [&](const Matrix8& wood) {
            for (size_t r = 0; r < 8; ++r)
                for (size_t c = 0; c < 8; ++c) total[r] += wood[8 * r + c] * e[c];
        });
    }
    return total;
}

} // namespace

std::array<double, 8> strains_of(const Shell& shell, const StrainMean& mean, std::span<const double> dofs) {
    return strains_in<double>(shell, mean, dofs.data(), 0);
}

namespace {

/// Stresses on both faces and through the thickness, of strains; `Value` as in strains_in.
template <class Value> struct Stresses {
    std::array<Value, 3> top, bottom;
    std::array<Value, 2> shear;
};

template <class Value>
Stresses<Value> stresses_from(const Shell& shell, double thickness, const std::array<Value, 8>& e) {
    const double c = shell.plane.grain.x, s = shell.plane.grain.y;
    const auto& Q = shell.plane.Q;
    const auto face = [&](double z) {
        const std::array<Value, 3> strain{e[0] + z * e[3], e[1] + z * e[4], e[2] + z * e[5]};
        std::array<Value, 3> stress;
        for (size_t i = 0; i < 3; ++i)
            stress[i] = Q[3 * i] * strain[0] + Q[3 * i + 1] * strain[1] + Q[3 * i + 2] * strain[2];
        const auto& [x, y, xy] = stress;
        return std::array<Value, 3>{c * c * x + s * s * y + 2 * s * c * xy,
                                    s * s * x + c * c * y - 2 * s * c * xy,
                                    s * c * (y - x) + (c * c - s * s) * xy};
    };
    // parabolic through the thickness: greatest 1.5 times the mean, mean = shear_correction x G gamma
    const auto& G = shell.plane.G;
    const Value xz = 5.0 / 6.0 * 1.5 * (G[0] * e[6] + G[1] * e[7]),
                yz = 5.0 / 6.0 * 1.5 * (G[2] * e[6] + G[3] * e[7]);
    return {.top = face(shell.reference_depth),
            .bottom = face(shell.reference_depth - thickness),
            .shear = {c * xz + s * yz, c * yz - s * xz}};
}

StressSample sample_from(const Shell& shell, const StrainMean& mean, const std::array<double, 8>& e) {
    const Stresses<double> stresses = stresses_from(shell, mean.thickness, e);
    return {.at = mean.at,
            .thickness = mean.thickness,
            .top = stresses.top,
            .bottom = stresses.bottom,
            .shear = stresses.shear};
}

} // namespace

StressSample stress_of(const Shell& shell, const StrainMean& mean, std::span<const double> dofs) {
    if (mean.parts.empty()) return {.at = mean.at, .thickness = mean.thickness};
    return sample_from(shell, mean, strains_of(shell, mean, dofs));
}

struct FieldsAbreast::Body {
    size_t count = 0;
    std::vector<std::vector<Lanes>> groups; ///< n_lanes fields each, dof by dof
};

FieldsAbreast::FieldsAbreast(std::span<const std::span<const double>> fields)
    : body_(std::make_unique<Body>()) {
    body_->count = fields.size();
    for (size_t first = 0; first < fields.size(); first += n_lanes) {
        const size_t count = std::min(n_lanes, fields.size() - first);
        std::vector<Lanes>& group = body_->groups.emplace_back(fields[first].size(), Lanes::Zero());
        constexpr size_t together =
            256; // dofs: what is written stays near while one field after the other is read
        for (size_t from = 0; from < group.size(); from += together)
            for (size_t lane = 0; lane < count; ++lane)
                for (size_t i = from; i < std::min(from + together, group.size()); ++i)
                    group[i][static_cast<Eigen::Index>(lane)] = fields[first + lane][i];
    }
}
FieldsAbreast::~FieldsAbreast() = default;
FieldsAbreast::FieldsAbreast(FieldsAbreast&&) noexcept = default;
FieldsAbreast& FieldsAbreast::operator=(FieldsAbreast&&) noexcept = default;
size_t FieldsAbreast::size() const { return body_->count; }
size_t FieldsAbreast::n_groups() const { return body_->groups.size(); }
size_t FieldsAbreast::size_of(size_t group) const {
    return std::min(group_size, body_->count - group * group_size);
}

void FieldsAbreast::stresses(const Shell& shell, const StrainMean& mean, size_t group,
                             std::span<StressSample> samples) const {
    HOLLOWTOP_ASSERT(samples.size() == size_of(group));
    for (StressSample& sample : samples) sample = {.at = mean.at, .thickness = mean.thickness};
    if (mean.parts.empty()) return;
    const Stresses<Lanes> stresses = stresses_from<Lanes>(
        shell, mean.thickness, strains_in<Lanes>(shell, mean, body_->groups[group].data(), Lanes::Zero()));
    for (size_t lane = 0; lane < samples.size(); ++lane) {
        StressSample& sample = samples[lane];
        const auto i = static_cast<Eigen::Index>(lane);
        sample.top = {stresses.top[0][i], stresses.top[1][i], stresses.top[2][i]};
        sample.bottom = {stresses.bottom[0][i], stresses.bottom[1][i], stresses.bottom[2][i]};
        sample.shear = {stresses.shear[0][i], stresses.shear[1][i]};
    }
}

std::vector<std::vector<StressSample>> stresses_of(const Shell& shell, std::span<const StrainMean> means,
                                                   const FieldsAbreast& fields) {
    std::vector<std::vector<StressSample>> rows(fields.size(), std::vector<StressSample>(means.size()));
    std::array<StressSample, FieldsAbreast::group_size> samples;
    for (size_t group = 0; group < fields.n_groups(); ++group) {
        const size_t first = group * FieldsAbreast::group_size, count = fields.size_of(group);
        for (size_t m = 0; m < means.size(); ++m) {
            fields.stresses(shell, means[m], group, {samples.data(), count});
            for (size_t lane = 0; lane < count; ++lane) rows[first + lane][m] = samples[lane];
        }
    }
    return rows;
}

void append_stress_form(const Shell& shell, const StrainMean& mean, Face face, int axis,
                        SparseColumns& forms) {
    std::array<double, 8> of_strain{};
    for (size_t r = 0; r < 8; ++r) {
        std::array<double, 8> unit{};
        unit[r] = 1;
        const StressSample sample = sample_from(shell, mean, unit);
        of_strain[r] = (face == Face::top ? sample.top : sample.bottom)[static_cast<size_t>(axis)];
    }
    for (const StrainMean::Part& part : mean.parts) {
        std::array<double, 8> s = of_strain;
        with_wood_of(shell, part, [&](const Matrix8& wood) {
            s.fill(0);
            for (size_t r = 0; r < 8; ++r)
                for (size_t c = 0; c < 8; ++c) s[c] += of_strain[r] * wood[8 * r + c];
        });
        each_node(shell, part, [&](size_t dof, double v, double dx, double dy) {
            const std::array<double, dofs_per_node> values{
                s[0] * dx + s[2] * dy, s[1] * dy + s[2] * dx, s[6] * dx + s[7] * dy,
                s[3] * dx + s[5] * dy + s[6] * v, s[4] * dy + s[5] * dx + s[7] * v};
            for (size_t d = 0; d < values.size(); ++d) {
                forms.dof.push_back(static_cast<int>(dof + d));
                forms.value.push_back(values[d]);
            }
        });
    }
    forms.start.push_back(static_cast<int>(forms.dof.size()));
}

std::array<double, 3> moments_at(const Shell& shell, std::span<const double> dofs, Point point) {
    const StrainMean mean = strain_mean(shell, point, 0);
    if (mean.parts.empty()) return {};
    const std::array<double, 8> e = strains_of(shell, mean, dofs);
    // about mid-thickness only the curvature counts; z is up, so a sagging curvature is negative
    const double stiffness = std::pow(mean.thickness, 3) / 12;
    std::array<double, 3> moments{};
    for (size_t i = 0; i < 3; ++i)
        for (size_t j = 0; j < 3; ++j) moments[i] -= stiffness * shell.plane.Q[3 * i + j] * e[3 + j];
    return moments;
}

std::vector<StrainMean> survey_means(const Shell& shell, double sparse) {
    std::vector<StrainMean> means;
    for (const Cell& cell : shell.mesh.cells) {
        if (!cell.active) continue;
        const Point centre{(cell.x0 + cell.x1) / 2, (cell.y0 + cell.y1) / 2};
        const double hx = (cell.x1 - cell.x0) / 2, hy = (cell.y1 - cell.y0) / 2;
        const double thickness =
            std::max(thickness_of(shell.field, region_at(shell.field, centre)), shell.field.thickness / 4);
        const auto steps = [&](double half) {
            return 2 * half < sparse * thickness ? std::vector<double>{0} : std::vector<double>{-0.9, 0, 0.9};
        };
        for (const double b : steps(hy)) {
            for (const double a : steps(hx)) {
                const Point p{centre.x + a * hx, centre.y + b * hy};
                if (cell.cut && region_at(shell.field, p) == outside) continue;
                StrainMean mean = strain_mean(shell, p);
                if (!mean.parts.empty()) means.push_back(std::move(mean));
            }
        }
    }
    return means;
}

} // namespace hollowtop
