// SPDX-License-Identifier: MIT
#include "solver/section/submodel_element.hpp"

#include "solver/numeric/quadrature.hpp"

#include <Eigen/Core>

namespace hollowtop {

using namespace quad;

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

/// One-dimensional integrals on [-1, 1]: value-value, slope-value, slope-slope.
struct LineMatrices {
    MatrixXd vv = MatrixXd::Zero(n1, n1), sv = MatrixXd::Zero(n1, n1), ss = MatrixXd::Zero(n1, n1);
    LineMatrices() {
        const Rule& rule = gauss_rule(n1);
        for (size_t q = 0; q < rule.points.size(); ++q) {
            const Basis1d b = lagrange_basis(order, rule.points[q]);
            const Eigen::Map<const VectorXd> v(b.value.data(), n1), s(b.slope.data(), n1);
            vv += rule.weights[q] * v * v.transpose();
            sv += rule.weights[q] * s * v.transpose();
            ss += rule.weights[q] * s * s.transpose();
        }
    }
};

/// Stiffness of a rectangle w x h: local node b n1 + a, local dof 2 node + component.
MatrixXd rectangle_stiffness(const Matrix3& C, double w, double h) {
    static const LineMatrices line;
    MatrixXd K(n_dofs, n_dofs);
    for (int bj = 0; bj < n1; ++bj)
        for (int aj = 0; aj < n1; ++aj)
            for (int bi = 0; bi < n1; ++bi)
                for (int ai = 0; ai < n1; ++ai) {
                    const double xx = line.ss(ai, aj) * line.vv(bi, bj) * h / w,
                                 zz = line.vv(ai, aj) * line.ss(bi, bj) * w / h;
                    const double xz = line.sv(ai, aj) * line.sv(bj, bi),
                                 zx = line.sv(aj, ai) * line.sv(bi, bj);
                    const int i = 2 * (bi * n1 + ai), j = 2 * (bj * n1 + aj);
                    // strains: (u,x), (w,z), (u,z + w,x)
                    K(i, j) = C[0] * xx + C[2] * (xz + zx) + C[8] * zz;
                    K(i, j + 1) = C[1] * xz + C[2] * xx + C[5] * zz + C[8] * zx;
                    K(i + 1, j) = C[1] * zx + C[2] * xx + C[5] * zz + C[8] * xz;
                    K(i + 1, j + 1) = C[4] * zz + C[5] * (xz + zx) + C[8] * xx;
                }
    return K;
}

struct LocalBasis {
    VectorXd value{n_nodes}, dX{n_nodes}, dZ{n_nodes}; // by xi, eta on [-1, 1]
};
LocalBasis local_basis(double xi, double eta) {
    const Basis1d a = lagrange_basis(order, xi), b = lagrange_basis(order, eta);
    LocalBasis basis;
    for (int j = 0; j < n1; ++j)
        for (int i = 0; i < n1; ++i) {
            const auto u = static_cast<size_t>(i), v = static_cast<size_t>(j);
            basis.value[j * n1 + i] = a.value[u] * b.value[v];
            basis.dX[j * n1 + i] = a.slope[u] * b.value[v];
            basis.dZ[j * n1 + i] = a.value[u] * b.slope[v];
        }
    return basis;
}

/// Rows (u,x), (w,z), (u,z + w,x) over the local dofs at a point of a cell, and the area a unit of xi eta.
struct StrainAt {
    MatrixXd B = MatrixXd::Zero(3, n_dofs);
    double area = 0;
    SubmodelPoint place{};
};
StrainAt strain_at(const SubmodelMesh& g, int column, int row, double xi, double eta) {
    const auto c = static_cast<size_t>(column), r = static_cast<size_t>(row);
    const double hx = (g.xs[c + 1] - g.xs[c]) / 2, hz = (g.zs[r + 1] - g.zs[r]) / 2;
    StrainAt at;
    at.place = place_in(g, column, row, g.xs[c] + hx * (1 + xi), g.zs[r] + hz * (1 + eta));
    const SubmodelPoint& p = at.place;
    const double det = p.x_X * p.z_Z - p.x_Z * p.z_X;
    at.area = det * hx * hz;
    const LocalBasis basis = local_basis(xi, eta);
    for (int k = 0; k < n_nodes; ++k) {
        const double dX = basis.dX[k] / hx, dZ = basis.dZ[k] / hz;
        const double dx = (dX * p.z_Z - dZ * p.z_X) / det, dz = (dZ * p.x_X - dX * p.x_Z) / det;
        at.B(0, 2 * k) = at.B(2, 2 * k + 1) = dx;
        at.B(1, 2 * k + 1) = at.B(2, 2 * k) = dz;
    }
    return at;
}

std::vector<double> values_of(const MatrixXd& m) { return {m.data(), m.data() + m.size()}; }

} // namespace

std::vector<double> cell_stiffness(const SubmodelMesh& g, const Matrix3& C, int column, int row) {
    if (g.is_plain(column, row)) {
        const StrainAt middle = strain_at(g, column, row, 0, 0);
        const auto c = static_cast<size_t>(column), r = static_cast<size_t>(row);
        return values_of(rectangle_stiffness(C, (g.xs[c + 1] - g.xs[c]) * middle.place.x_X,
                                             (g.zs[r + 1] - g.zs[r]) * middle.place.z_Z));
    }
    const Eigen::Map<const Eigen::Matrix<double, 3, 3, Eigen::RowMajor>> law(C.data());
    const Rule& rule = gauss_rule(n1 + 1);
    const auto n = static_cast<Index>(rule.points.size());
    MatrixXd rows(3 * n * n, n_dofs), weighted(3 * n * n, n_dofs);
    for (Index b = 0; b < n; ++b)
        for (Index a = 0; a < n; ++a) {
            const auto i = static_cast<size_t>(a), j = static_cast<size_t>(b);
            const StrainAt at = strain_at(g, column, row, rule.points[i], rule.points[j]);
            rows.middleRows(3 * (b * n + a), 3) = at.B;
            weighted.middleRows(3 * (b * n + a), 3) =
                rule.weights[i] * rule.weights[j] * at.area * (law * at.B);
        }
    return values_of(rows.transpose() * weighted);
}

SubmodelPoint place_at(const SubmodelMesh& g, int column, int row, double xi, double eta) {
    const auto c = static_cast<size_t>(column), r = static_cast<size_t>(row);
    const double hx = (g.xs[c + 1] - g.xs[c]) / 2, hz = (g.zs[r + 1] - g.zs[r]) / 2;
    return place_in(g, column, row, g.xs[c] + hx * (1 + xi), g.zs[r] + hz * (1 + eta));
}

std::array<PerLoad, 3> stress_at(const SubmodelMesh& g, const Matrix3& C, std::span<const double> movements,
                                 int column, int row, double xi, double eta) {
    const Eigen::Map<const Eigen::Matrix<double, 3, 3, Eigen::RowMajor>> law(C.data());
    const Eigen::Map<const MatrixXd> u(movements.data(), n_dofs, n_submodel_loads);
    const Eigen::Matrix<double, 3, n_submodel_loads> stress =
        law * (strain_at(g, column, row, xi, eta).B * u);
    std::array<PerLoad, 3> values{};
    for (size_t i = 0; i < 3; ++i)
        for (size_t l = 0; l < n_submodel_loads; ++l)
            values[i][l] = stress(static_cast<Index>(i), static_cast<Index>(l));
    return values;
}

} // namespace hollowtop
