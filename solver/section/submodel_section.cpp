// SPDX-License-Identifier: MIT
#include "solver/section/submodel_section.hpp"

#include "materials/assert.hpp"
#include "solver/numeric/quadrature.hpp"
#include "solver/section/submodel_element.hpp"
#include "solver/section/submodel_loads.hpp"
#include "solver/section/submodel_mesh.hpp"
#include "solver/section/submodel_solver.hpp"

#include <Eigen/Core>
#include <Eigen/LU>

#include <algorithm>
#include <cmath>
#include <span>

namespace hollowtop {

using namespace quad;

namespace {

using Eigen::MatrixXd;

/// Work of the loads along the wall without any layer beside the wall.
Matrix3 work_along(const SubmodelMesh& g, const SubmodelSection& section) {
    const double G = section.C[0], skin = -g.skin_end, rim = g.rim_end, s = section.skin, t = section.thick;
    const double both = -(s * skin + t * rim);
    return {(skin / s + rim / t) / G, both, 0, both, G * (s * s * s * skin + t * t * t * rim), 0, 0, 0, 0};
}

/// Work of unit loads on two beams joined at their own axes at the wall's face.
Matrix3 beam_work(const SubmodelMesh& g, const SubmodelSection& section) {
    const Eigen::Map<const Eigen::Matrix<double, 3, 3, Eigen::RowMajor>> law(section.C.data());
    const Eigen::Matrix3d beta = law.inverse(); // sigma_zz = 0 in a beam
    Matrix3 total{};
    const auto add = [&](double from, double to, double h, double lever) {
        const Rule& rule = gauss_rule(3);
        for (size_t q = 0; q < rule.points.size(); ++q) {
            const double x = from + (to - from) * (1 + rule.points[q]) / 2,
                         weight = rule.weights[q] / 2 * (to - from);
            // resultants at x of each load
            const std::array<double, 3> N{1, 0, 0}, M{lever, 1, x}, V{0, 0, 1};
            for (size_t i = 0; i < 3; ++i)
                for (size_t j = 0; j < 3; ++j)
                    total[3 * i + j] +=
                        weight *
                        (beta(0, 0) * (N[i] * N[j] / h + 12 * M[i] * M[j] / (h * h * h)) +
                         1.2 * beta(2, 2) * V[i] * V[j] / h + beta(0, 2) * (N[i] * V[j] + N[j] * V[i]) / h);
        }
    };
    add(g.skin_end, 0, section.skin, 0);
    add(0, g.rim_end, section.thick, section.top != TopFace::free ? 0 : (section.thick - section.skin) / 2);
    return total;
}

/// Means of the stresses along a line of cells' edges over `length`, starting where the line starts. The
/// line: cells in turn, each run through from xi0 to xi1 at a fixed eta (or eta0 to eta1 at a fixed xi).
struct EdgeRun {
    int column, row;
    bool along_x;
    double fixed;    ///< the other local coordinate
    double from, to; ///< the running one
};
struct EdgeMeans {
    PerLoad normal_x{}, along{}, normal_z{}, shear{};
};

/// Stress along an edge of a cell, times `weight`.
PerLoad along_edge(const std::array<PerLoad, 3>& stress, const SubmodelPoint& p, bool along_x,
                   double weight) {
    const double tx = along_x ? p.x_X : p.x_Z, tz = along_x ? p.z_X : p.z_Z, norm = tx * tx + tz * tz;
    PerLoad along{};
    for (size_t l = 0; l < n_submodel_loads; ++l)
        along[l] =
            weight * (tx * tx * stress[0][l] + tz * tz * stress[1][l] + 2 * tx * tz * stress[2][l]) / norm;
    return along;
}

EdgeMeans means_along(const SubmodelSolution& solution, const SubmodelMesh& g, const Matrix3& C,
                      const std::vector<EdgeRun>& runs, double length) {
    EdgeMeans sum;
    double done = 0;
    for (const EdgeRun& run : runs) {
        if (done >= length * (1 - 1e-12)) break;
        const std::span<const double> u = solution.movements(run.column, run.row);
        const auto c = static_cast<size_t>(run.column), r = static_cast<size_t>(run.row);
        const double half = run.along_x ? (g.xs[c + 1] - g.xs[c]) / 2 : (g.zs[r + 1] - g.zs[r]) / 2;
        const auto at = [&](double s) {
            return run.along_x ? place_at(g, run.column, run.row, s, run.fixed)
                               : place_at(g, run.column, run.row, run.fixed, s);
        };
        const auto speed = [&](const SubmodelPoint& p) {
            return half * (run.along_x ? std::hypot(p.x_X, p.z_X) : std::hypot(p.x_Z, p.z_Z));
        };
        const Rule& rule = gauss_rule(n1 + 2);
        const auto arc = [&](double to) {
            double l = 0;
            for (size_t q = 0; q < rule.points.size(); ++q)
                l += rule.weights[q] / 2 * std::abs(to - run.from) *
                     speed(at(run.from + (to - run.from) * (1 + rule.points[q]) / 2));
            return l;
        };
        double end = run.to;
        if (done + arc(end) > length) { // stop inside the cell
            double low = 0, high = 1;
            for (int k = 0; k < 50; ++k) {
                const double mid = (low + high) / 2;
                (done + arc(run.from + mid * (run.to - run.from)) > length ? high : low) = mid;
            }
            end = run.from + low * (run.to - run.from);
        }
        for (size_t q = 0; q < rule.points.size(); ++q) {
            const double s = run.from + (end - run.from) * (1 + rule.points[q]) / 2;
            const SubmodelPoint p = at(s);
            const double weight = rule.weights[q] / 2 * std::abs(end - run.from) * speed(p);
            const std::array<PerLoad, 3> stress = run.along_x
                                                      ? stress_at(g, C, u, run.column, run.row, s, run.fixed)
                                                      : stress_at(g, C, u, run.column, run.row, run.fixed, s);
            const PerLoad along = along_edge(stress, p, run.along_x, weight);
            for (size_t l = 0; l < n_submodel_loads; ++l) {
                sum.normal_x[l] += weight * stress[0][l];
                sum.along[l] += along[l];
                sum.normal_z[l] += weight * stress[1][l];
                sum.shear[l] += weight * stress[2][l];
            }
        }
        done += arc(end);
    }
    for (PerLoad* values : {&sum.normal_x, &sum.along, &sum.normal_z, &sum.shear})
        for (double& value : *values) value /= done;
    return sum;
}

void measure_stresses(const SubmodelSolution& solution, const SubmodelMesh& g, const SubmodelSection& section,
                      SubmodelAnswer& answer) {
    std::vector<EdgeRun> under, over, level;
    for (int column = g.skin_columns - 1; column >= 0; --column)
        under.push_back({column, g.low_rows, true, -1, 1, -1});
    for (int column = g.skin_columns - 1; column >= 0; --column)
        over.push_back({column, g.rows() - 1, true, 1, 1, -1});
    for (int column = g.skin_columns; column < g.columns(); ++column)
        level.push_back({column, g.low_rows, true, -1, -1, 1});
    answer.underside = means_along(solution, g, section.C, under, section.skin).along;
    answer.top = means_along(solution, g, section.C, over, section.skin).normal_x;
    const EdgeMeans inside = means_along(solution, g, section.C, level, section.skin);
    answer.peel = inside.normal_z;
    answer.slip = inside.shear;
    if (g.radius <= 0) return;
    // along the surface: the skin beside the root, the root's two halves
    constexpr int points_a_cell = 12;
    const auto add = [&](int column, int row, bool along_x, double fixed) {
        const std::span<const double> u = solution.movements(column, row);
        for (int k = 0; k <= points_a_cell; ++k) {
            const double s = 2.0 * k / points_a_cell - 1;
            const double xi = along_x ? s : fixed, eta = along_x ? fixed : s;
            answer.along_root.push_back(along_edge(stress_at(g, section.C, u, column, row, xi, eta),
                                                   place_at(g, column, row, xi, eta), along_x, 1));
        }
    };
    for (int column = std::max(0, g.skin_columns - 3); column < g.skin_columns; ++column)
        add(column, g.low_rows, true, -1);
    for (int row = g.low_rows - 1; row >= 0 && g.zs[static_cast<size_t>(row) + 1] > -g.skin - g.radius + 1e-9;
         --row)
        add(g.skin_columns, row, false, -1);
}

/// G = -1/2 u' dK/da u with the lines about the tip moved along the crack (Parks 1974). They move together,
/// so that the cells touching the tip, which know its singular field least, only move and do not count. The
/// cells' stiffness is a smooth function of the lines' place: its derivative by central difference.
void measure_release(const SubmodelSolution& solution, const SubmodelMesh& g, const SubmodelSection& section,
                     SubmodelAnswer& answer) {
    const int tip = g.skin_columns + g.crack_columns; // the line
    const int along = std::min({2, g.crack_columns - 1, g.columns() - tip - 1});
    SubmodelMesh ahead = g, behind = g;
    const auto first = static_cast<size_t>(tip - along), last = static_cast<size_t>(tip + along);
    const double by = 1e-4 * std::min(g.xs[first] - g.xs[first - 1], g.xs[last + 1] - g.xs[last]);
    for (size_t line = first; line <= last; ++line) {
        ahead.xs[line] += by;
        behind.xs[line] -= by;
    }
    Eigen::Matrix<double, n_submodel_loads, n_submodel_loads> G =
        Eigen::Matrix<double, n_submodel_loads, n_submodel_loads>::Zero();
    for (int column = tip - along - 1; column <= tip + along; ++column)
        for (int row = 0; row < g.rows(); ++row) {
            const Eigen::Map<const MatrixXd> u(solution.movements(column, row).data(), n_dofs,
                                               n_submodel_loads);
            const std::vector<double> more = cell_stiffness(ahead, section.C, column, row),
                                      less = cell_stiffness(behind, section.C, column, row);
            const Eigen::Map<const MatrixXd> K(more.data(), n_dofs, n_dofs), L(less.data(), n_dofs, n_dofs);
            const MatrixXd slope = (K - L) / (2 * by);
            G -= 0.5 * u.transpose() * slope * u;
        }
    for (int i = 0; i < n_submodel_loads; ++i)
        for (int j = 0; j < n_submodel_loads; ++j)
            answer.release[static_cast<size_t>(i)][static_cast<size_t>(j)] = (G(i, j) + G(j, i)) / 2;
}

} // namespace

SubmodelAnswer solve_submodel(const SubmodelSection& section) {
    HOLLOWTOP_ASSERT(section.crack == 0 ||
                     section.crack > 0.199 * std::min(section.skin, section.thick - section.skin));
    const SubmodelMesh grid = submodel_mesh(section);
    const SubmodelSolution solution = solve_on(grid, section, submodel_loads(grid, section));
    SubmodelAnswer answer;
    answer.dofs = solution.n_dofs;
    const auto& work = solution.work;
    const Matrix3 beams = section.moves_along ? work_along(grid, section) : beam_work(grid, section);
    for (size_t i = 0; i < 3; ++i)
        for (size_t j = 0; j < 3; ++j) {
            answer.extra[3 * i + j] = (work[i][j] + work[j][i]) / 2 - beams[3 * i + j];
        }
    answer.work = std::max({work[0][0], work[1][1], work[2][2], work[3][3]});
    if (section.moves_along) return answer;
    measure_stresses(solution, grid, section, answer);
    if (section.crack > 0) measure_release(solution, grid, section, answer);
    return answer;
}

} // namespace hollowtop
