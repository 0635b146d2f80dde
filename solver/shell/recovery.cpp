// SPDX-License-Identifier: MIT
#include "solver/shell/recovery.hpp"

#include "materials/assert.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

/// Fields that are read side by side.
constexpr size_t n_lanes = FieldsAbreast::group_size;
using Lanes = Eigen::Array<double, static_cast<int>(n_lanes), 1>;

/// The first dof, value and slopes of each node's polynomial in a part of a mean.
template <class See> void each_node(const Shell& shell, const StrainMean::Part& part, const See& see) {
    const int p = shell.order;
    const CellNodes nodes = cell_nodes(shell, part.cell, part.leaf);
    const bool is_product = part.nodes.empty();
    const auto n_nodes = static_cast<size_t>((p + 1) * (p + 1));
    const double* const value = part.nodes.data();
    const double *const along_x = is_product ? nullptr : value + n_nodes, *const along_y =
                                                                              is_product ? nullptr
                                                                                         : along_x + n_nodes;
    size_t k = 0;
    for (int b = 0; b <= p; ++b) {
        for (int a = 0; a <= p; ++a, ++k) {
            const size_t dof = static_cast<size_t>(nodes(a, b)) * dofs_per_node;
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
    const int p = shell.order;
    const CellNodes nodes = cell_nodes(shell, part.cell, part.leaf);
    for (int b = 0; b <= p; ++b) {
        const Value* node = dofs + static_cast<size_t>(nodes(0, b)) * dofs_per_node;
        const double v0 = part.x.value[0], d0 = part.x.slope[0];
        Value u = v0 * node[0], v = v0 * node[1], w = v0 * node[2], bx = v0 * node[3], by = v0 * node[4];
        Value du = d0 * node[0], dv = d0 * node[1], dw = d0 * node[2], dbx = d0 * node[3], dby = d0 * node[4];
        for (int a = 1; a <= p; ++a) {
            node = dofs + static_cast<size_t>(nodes(a, b)) * dofs_per_node;
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
        const double share = stiffness_share(shell.field, part.place);
        if (part.place.wall < 0 && share == 1) {
            add(part, total);
            continue;
        }
        std::array<Value, 8> e;
        e.fill(zero);
        add(part, e);
        for (Value& value : e) value *= share;
        if (part.place.wall < 0)
            for (size_t r = 0; r < 8; ++r) total[r] += e[r];
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
        const double share = stiffness_share(shell.field, part.place);
        with_wood_of(shell, part, [&](const Matrix8& wood) {
            s.fill(0);
            for (size_t r = 0; r < 8; ++r)
                for (size_t c = 0; c < 8; ++c) s[c] += of_strain[r] * wood[8 * r + c];
        });
        for (double& value : s) value *= share;
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

} // namespace hollowtop
