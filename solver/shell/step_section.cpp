// SPDX-License-Identifier: MIT
#include "solver/shell/step_section.hpp"

#include "materials/assert.hpp"
#include "materials/error.hpp"
#include "solver/shell/quadrature.hpp"
#include "solver/shell/step_grid.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <Eigen/LU>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <tuple>
#include <utility>

namespace hollowtop {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr int order = 4, n1 = order + 1, n_nodes = n1 * n1, n_dofs = 2 * n_nodes;
constexpr int n_loads = n_step_loads;
enum Load { pull, moment, shear, low_shear };

[[noreturn]] void refuse() {
    throw Error(ErrorKind::not_computable, {.place = "top", .what = "the section at a recess wall could not be solved",
                                            .remedy = "look at the elastic constants"});
}

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
                    const double xx = line.ss(ai, aj) * line.vv(bi, bj) * h / w, zz = line.vv(ai, aj) * line.ss(bi, bj) * w / h;
                    const double xz = line.sv(ai, aj) * line.sv(bj, bi), zx = line.sv(aj, ai) * line.sv(bi, bj);
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
    StepPlace place{};
};
StrainAt strain_at(const StepGrid& g, int column, int row, double xi, double eta) {
    const auto c = static_cast<size_t>(column), r = static_cast<size_t>(row);
    const double hx = (g.xs[c + 1] - g.xs[c]) / 2, hz = (g.zs[r + 1] - g.zs[r]) / 2;
    StrainAt at;
    at.place = place_in(g, column, row, g.xs[c] + hx * (1 + xi), g.zs[r] + hz * (1 + eta));
    const StepPlace& p = at.place;
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

MatrixXd cell_stiffness(const StepGrid& g, const Matrix3& C, int column, int row) {
    if (g.is_plain(column, row)) {
        const StrainAt middle = strain_at(g, column, row, 0, 0);
        const auto c = static_cast<size_t>(column), r = static_cast<size_t>(row);
        return rectangle_stiffness(C, (g.xs[c + 1] - g.xs[c]) * middle.place.x_X, (g.zs[r + 1] - g.zs[r]) * middle.place.z_Z);
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
            weighted.middleRows(3 * (b * n + a), 3) = rule.weights[i] * rule.weights[j] * at.area * (law * at.B);
        }
    return rows.transpose() * weighted;
}

/// Which local nodes lie on the cell's edge, and which inside.
struct LocalSplit {
    std::vector<int> edge, inner; ///< local dofs
    LocalSplit() {
        for (int b = 0; b < n1; ++b)
            for (int a = 0; a < n1; ++a)
                for (int c = 0; c < 2; ++c)
                    (a == 0 || a == order || b == 0 || b == order ? edge : inner).push_back(2 * (b * n1 + a) + c);
    }
};
const LocalSplit& local_split() {
    static const LocalSplit split;
    return split;
}

/// The whole solve: numbering, column by column elimination, movements of every cell.
class StepSolver {
  public:
    StepSolver(const StepGrid& grid, const StepSection& step) : g_(grid), step_(step) { number(); }

    /// Adds `traction` (x, z a unit of height, by load) along a column's left (or right) edge, over rows that `takes` says.
    void add_traction(int column, bool at_right, const std::function<bool(int)>& takes,
                      const std::function<std::array<std::array<double, n_loads>, 2>(double)>& traction) {
        const Rule& rule = gauss_rule(n1);
        for (int row = 0; row < g_.rows(); ++row) {
            if (!g_.has(column, row) || !takes(row)) continue;
            const auto r = static_cast<size_t>(row), c = static_cast<size_t>(at_right ? column + 1 : column);
            const double h = (g_.zs[r + 1] - g_.zs[r]) / 2;
            for (size_t q = 0; q < rule.points.size(); ++q) {
                const StepPlace p = place_in(g_, column, row, g_.xs[c], g_.zs[r] + h * (1 + rule.points[q]));
                const auto t = traction(p.z);
                const Basis1d basis = lagrange_basis(order, rule.points[q]);
                for (int b = 0; b < n1; ++b) {
                    const int node = node_of(column, row, at_right ? order : 0, b);
                    const double weight = rule.weights[q] * h * p.z_Z * basis.value[static_cast<size_t>(b)];
                    for (int k = 0; k < 2; ++k)
                        for (int l = 0; l < n_loads; ++l) force_(2 * node + k, l) += weight * t[static_cast<size_t>(k)][static_cast<size_t>(l)];
                }
            }
        }
    }

    void solve() {
        hold();
        eliminate();
        substitute();
    }

    int n_step_dofs() const { return static_cast<int>(force_.rows()); }
    Eigen::Matrix<double, n_loads, n_loads> work() const {
        Eigen::Matrix<double, n_loads, n_loads> w = force_.transpose() * moved_;
        return w;
    }
    /// Movements of a cell's local dofs.
    MatrixXd movements(int column, int row) const {
        const auto found = cells_.find({column, row});
        const LocalSplit& split = local_split();
        MatrixXd u(n_dofs, n_loads);
        MatrixXd edge(static_cast<Index>(split.edge.size()), n_loads);
        const std::vector<int> dofs = edge_dofs(column, row);
        for (size_t k = 0; k < dofs.size(); ++k) edge.row(static_cast<Index>(k)) = moved_.row(dofs[k]);
        const MatrixXd inner = -found->second * edge;
        for (size_t k = 0; k < split.edge.size(); ++k) u.row(split.edge[k]) = edge.row(static_cast<Index>(k));
        for (size_t k = 0; k < split.inner.size(); ++k) u.row(split.inner[k]) = inner.row(static_cast<Index>(k));
        return u;
    }
    /// Stresses across, through, shear at a point of a cell, by load.
    Eigen::Matrix<double, 3, n_loads> stress(const MatrixXd& cell_movements, int column, int row, double xi, double eta) const {
        const Eigen::Map<const Eigen::Matrix<double, 3, 3, Eigen::RowMajor>> law(step_.C.data());
        return law * (strain_at(g_, column, row, xi, eta).B * cell_movements);
    }

  private:
    /// Edge nodes by their place in the grid of nodes; a crack gives its lower lip nodes of their own.
    int node_of(int column, int row, int a, int b) const {
        const int gx = column * order + a, gz = row * order + b;
        const bool lip = g_.crack_columns > 0 && b == order && row == g_.low_rows - 1 &&
                         gx < (g_.skin_columns + g_.crack_columns) * order;
        return nodes_.at({gx, lip ? -1 : gz});
    }
    std::vector<int> edge_dofs(int column, int row) const {
        std::vector<int> dofs;
        for (int b = 0; b < n1; ++b)
            for (int a = 0; a < n1; ++a) {
                if (a != 0 && a != order && b != 0 && b != order) continue;
                const int node = node_of(column, row, a, b);
                dofs.push_back(2 * node);
                dofs.push_back(2 * node + 1);
            }
        return dofs;
    }
    void number() {
        for (int column = 0; column < g_.columns(); ++column)
            for (int row = 0; row < g_.rows(); ++row) {
                if (!g_.has(column, row)) continue;
                for (int b = 0; b < n1; ++b)
                    for (int a = 0; a < n1; ++a) {
                        if (a != 0 && a != order && b != 0 && b != order) continue;
                        const int gx = column * order + a, gz = row * order + b;
                        const bool lip = g_.crack_columns > 0 && b == order && row == g_.low_rows - 1 &&
                                         gx < (g_.skin_columns + g_.crack_columns) * order;
                        nodes_.try_emplace({gx, lip ? -1 : gz}, 0);
                    }
            }
        int next = 0; // by columns, from the skin's end
        for (auto& [place, number] : nodes_) number = next++;
        column_of_.resize(static_cast<size_t>(next));
        for (const auto& [place, number] : nodes_) column_of_[static_cast<size_t>(number)] = place.first;
        force_ = MatrixXd::Zero(2 * next, n_loads);
        moved_ = MatrixXd::Zero(2 * next, n_loads);
        spring_ = VectorXd::Zero(2 * next);
    }
    /// The loads balance, so what stops the rigid motions carries nothing.
    void hold() {
        const int last = g_.columns() - 1, top_row = g_.rows() - 1;
        const int top = node_of(last, top_row, order, order), low = node_of(last, 0, order, 0);
        spring_[2 * top] = spring_[2 * low] = step_.C[0];
        if (step_.rim_end_held) {
            for (int row = 0; row < g_.rows(); ++row)
                for (int b = 0; b < n1; ++b) spring_[2 * node_of(last, row, order, b)] = 1e7 * step_.C[0];
        }
        spring_[2 * top + 1] = step_.C[0];
        if (step_.top == TopFace::free) return;
        const bool pulled = step_.top == TopFace::pulled_bar;
        for (int column = 0; column < g_.columns(); ++column)
            for (int a = 0; a < n1; ++a) spring_[2 * node_of(column, top_row, a, order) + (pulled ? 1 : 0)] = 1e6 * step_.C[0];
        if (pulled) spring_[2 * low] = 0;
    }

    struct Front {
        std::vector<int> gone, kept; ///< dofs
        Eigen::LLT<MatrixXd> factor;
        MatrixXd coupling; ///< kept x gone
        MatrixXd right;    ///< gone x loads
    };

    void eliminate() {
        const LocalSplit& split = local_split();
        const auto n_inner = static_cast<Index>(split.inner.size()), n_edge = static_cast<Index>(split.edge.size());
        std::vector<int> carried;
        MatrixXd carried_matrix, carried_right;
        std::vector<int> position(static_cast<size_t>(force_.rows()), -1);
        for (int column = 0; column < g_.columns(); ++column) {
            std::vector<int> dofs = carried;
            for (const int d : carried) position[static_cast<size_t>(d)] = 0;
            for (int row = 0; row < g_.rows(); ++row) {
                if (!g_.has(column, row)) continue;
                for (const int d : edge_dofs(column, row)) {
                    if (position[static_cast<size_t>(d)] >= 0) continue;
                    position[static_cast<size_t>(d)] = 0;
                    dofs.push_back(d);
                }
            }
            const int stays_from = column + 1 < g_.columns() ? (column + 1) * order : 1 << 28;
            std::stable_partition(dofs.begin(), dofs.end(), [&](int d) { return column_of_[static_cast<size_t>(d / 2)] < stays_from; });
            const auto n = static_cast<Index>(dofs.size());
            for (Index k = 0; k < n; ++k) position[static_cast<size_t>(dofs[static_cast<size_t>(k)])] = static_cast<int>(k);
            MatrixXd K = MatrixXd::Zero(n, n), f = MatrixXd::Zero(n, n_loads);
            std::vector<char> is_carried(static_cast<size_t>(force_.rows()), 0);
            for (size_t i = 0; i < carried.size(); ++i) {
                is_carried[static_cast<size_t>(carried[i])] = 1;
                const Index pi = position[static_cast<size_t>(carried[i])];
                f.row(pi) = carried_right.row(static_cast<Index>(i));
                for (size_t j = 0; j < carried.size(); ++j)
                    K(pi, position[static_cast<size_t>(carried[j])]) = carried_matrix(static_cast<Index>(i), static_cast<Index>(j));
            }
            for (Index k = 0; k < n; ++k) {
                const int d = dofs[static_cast<size_t>(k)];
                if (is_carried[static_cast<size_t>(d)]) continue;
                f.row(k) += force_.row(d);
                K(k, k) += spring_[d];
            }
            for (int row = 0; row < g_.rows(); ++row) {
                if (!g_.has(column, row)) continue;
                MatrixXd cell = cell_stiffness(g_, step_.C, column, row);
                if (step_.moves_along) {
                    for (int j = 0; j < n_dofs; ++j)
                        for (int i = (j + 1) % 2; i < n_dofs; i += 2) cell(i, j) = 0;
                }
                MatrixXd inner(n_inner, n_inner), mixed(n_inner, n_edge), edge(n_edge, n_edge);
                for (Index j = 0; j < n_inner; ++j)
                    for (Index i = 0; i < n_inner; ++i) inner(i, j) = cell(split.inner[static_cast<size_t>(i)], split.inner[static_cast<size_t>(j)]);
                for (Index j = 0; j < n_edge; ++j) {
                    for (Index i = 0; i < n_inner; ++i) mixed(i, j) = cell(split.inner[static_cast<size_t>(i)], split.edge[static_cast<size_t>(j)]);
                    for (Index i = 0; i < n_edge; ++i) edge(i, j) = cell(split.edge[static_cast<size_t>(i)], split.edge[static_cast<size_t>(j)]);
                }
                const Eigen::LLT<MatrixXd> factor(inner);
                if (factor.info() != Eigen::Success) refuse();
                MatrixXd follows = factor.solve(mixed);
                edge.noalias() -= mixed.transpose() * follows;
                cells_.emplace(std::pair{column, row}, std::move(follows));
                const std::vector<int> at = edge_dofs(column, row);
                for (Index j = 0; j < n_edge; ++j)
                    for (Index i = 0; i < n_edge; ++i)
                        K(position[static_cast<size_t>(at[static_cast<size_t>(i)])], position[static_cast<size_t>(at[static_cast<size_t>(j)])]) += edge(i, j);
            }
            const auto split_at = std::partition_point(dofs.begin(), dofs.end(), [&](int d) { return column_of_[static_cast<size_t>(d / 2)] < stays_from; });
            const auto n_gone = static_cast<Index>(split_at - dofs.begin()), n_kept = n - n_gone;
            Front front{.gone = {dofs.begin(), split_at}, .kept = {split_at, dofs.end()}, .factor = Eigen::LLT<MatrixXd>(K.topLeftCorner(n_gone, n_gone)),
                        .coupling = K.bottomLeftCorner(n_kept, n_gone), .right = f.topRows(n_gone)};
            if (front.factor.info() != Eigen::Success) refuse();
            MatrixXd half = front.coupling.transpose(); // L^-1 A12
            if (half.size() > 0) front.factor.matrixL().solveInPlace(half);
            MatrixXd half_right = front.right;
            if (half_right.size() > 0) front.factor.matrixL().solveInPlace(half_right);
            carried_matrix = K.bottomRightCorner(n_kept, n_kept);
            carried_matrix.noalias() -= half.transpose() * half;
            carried_right = f.bottomRows(n_kept);
            carried_right.noalias() -= half.transpose() * half_right;
            carried = front.kept;
            for (const int d : dofs) position[static_cast<size_t>(d)] = -1;
            fronts_.push_back(std::move(front));
        }
    }
    void substitute() {
        for (auto front = fronts_.rbegin(); front != fronts_.rend(); ++front) {
            MatrixXd kept(static_cast<Index>(front->kept.size()), n_loads);
            for (size_t k = 0; k < front->kept.size(); ++k) kept.row(static_cast<Index>(k)) = moved_.row(front->kept[k]);
            MatrixXd u = front->right;
            u.noalias() -= front->coupling.transpose() * kept;
            if (u.size() > 0) front->factor.solveInPlace(u);
            for (size_t k = 0; k < front->gone.size(); ++k) moved_.row(front->gone[k]) = u.row(static_cast<Index>(k));
        }
    }

    const StepGrid& g_;
    const StepSection& step_;
    std::map<std::pair<int, int>, int> nodes_;
    std::vector<int> column_of_;
    MatrixXd force_, moved_;
    VectorXd spring_;
    std::map<std::pair<int, int>, MatrixXd> cells_; ///< how a cell's inner dofs follow its edge
    std::vector<Front> fronts_;
};

/// Normal and shear traction of a section of height h about its axis, by unit pull, moment and shear: [xx; xz] at z.
std::array<std::array<double, 3>, 2> beam_stress(double h, double axis, double z) {
    const double y = z - axis;
    return {{{1 / h, 12 * y / (h * h * h), 0}, {0, 0, 1.5 / h * (1 - 4 * y * y / (h * h))}}};
}

/// Movement along the wall: a unit flow of shear, and a unit twist a unit length. With the movement taken as what it is beyond
/// -twist x z, the twist is a flow through every edge that runs through the thickness: 2 z at the wall's face, and what a
/// plate twisted about its own axis leaves at the two ends.
void load_along(StepSolver& solver, const StepGrid& g, const StepSection& step) {
    const auto edge = [&](int column, bool at_right, bool low_only, double flow, auto twist) {
        solver.add_traction(column, at_right, [&](int row) { return !low_only || row < g.low_rows; }, [&](double z) {
            std::array<std::array<double, n_loads>, 2> t{};
            t[0][pull] = flow;
            t[0][moment] = step.C[0] * twist(z);
            return t;
        });
    };
    edge(0, false, false, -1 / step.skin, [&](double) { return step.skin; });
    edge(g.columns() - 1, true, false, 1 / step.thick, [&](double) { return -step.thick; });
    edge(g.skin_columns, false, true, 0, [](double z) { return -2 * z; });
}

/// Work of the same loads without any layer beside the wall.
Matrix3 work_along(const StepGrid& g, const StepSection& step) {
    const double G = step.C[0], skin = -g.skin_end, rim = g.rim_end, s = step.skin, t = step.thick;
    const double both = -(s * skin + t * rim);
    return {(skin / s + rim / t) / G, both, 0, both, G * (s * s * s * skin + t * t * t * rim), 0, 0, 0, 0};
}

void load_ends(StepSolver& solver, const StepGrid& g, const StepSection& step) {
    const double skin_axis = -step.skin / 2, rim_axis = -step.thick / 2, depth = step.thick - step.skin;
    const auto all = [](int) { return true; };
    if (step.top == TopFace::bent_bar) {
        for (const bool at_rim : {false, true}) {
            const double h = at_rim ? step.thick : step.skin, sense = at_rim ? -1 : 1;
            solver.add_traction(at_rim ? g.columns() - 1 : 0, at_rim, all, [&](double z) {
                std::array<std::array<double, n_loads>, 2> t{};
                t[0][moment] = sense * 3 * -z / (h * h * h); // compression at the top face of the whole bar
                return t;
            });
        }
        return;
    }
    solver.add_traction(0, false, all, [&](double z) {
        const auto unit = beam_stress(step.skin, skin_axis, z);
        std::array<std::array<double, n_loads>, 2> t{};
        for (size_t k = 0; k < 2; ++k) {
            t[k][pull] = -unit[k][0];
            t[k][moment] = -unit[k][1];
            t[k][shear] = -(unit[k][2] + g.skin_end * unit[k][1]); // M = V x
        }
        return t;
    });
    if (step.rim_end_held) return;
    const double lever = step.top != TopFace::free ? 0 : skin_axis - rim_axis;
    solver.add_traction(g.columns() - 1, true, all, [&](double z) {
        const auto unit = beam_stress(step.thick, rim_axis, z);
        std::array<std::array<double, n_loads>, 2> t{};
        for (size_t k = 0; k < 2; ++k) {
            t[k][pull] = unit[k][0] + lever * unit[k][1];
            t[k][moment] = unit[k][1];
            t[k][shear] = unit[k][2] + g.rim_end * unit[k][1];
            if (g.crack_columns > 0) t[k][low_shear] = unit[k][2] + g.rim_end * unit[k][1];
        }
        return t;
    });
    if (g.crack_columns == 0) return;
    solver.add_traction(g.skin_columns, false, [&](int row) { return row < g.low_rows; }, [&](double z) {
        const auto unit = beam_stress(depth, -step.skin - depth / 2, z);
        std::array<std::array<double, n_loads>, 2> t{};
        for (size_t k = 0; k < 2; ++k) t[k][low_shear] = -unit[k][2];
        return t;
    });
}

/// Work of unit loads on two beams joined at their own axes at the wall's face.
Matrix3 beam_work(const StepGrid& g, const StepSection& step) {
    const Eigen::Map<const Eigen::Matrix<double, 3, 3, Eigen::RowMajor>> law(step.C.data());
    const Eigen::Matrix3d beta = law.inverse(); // sigma_zz = 0 in a beam
    Matrix3 total{};
    const auto add = [&](double from, double to, double h, double lever) {
        const Rule& rule = gauss_rule(3);
        for (size_t q = 0; q < rule.points.size(); ++q) {
            const double x = from + (to - from) * (1 + rule.points[q]) / 2, weight = rule.weights[q] / 2 * (to - from);
            // resultants at x of each load
            const std::array<double, 3> N{1, 0, 0}, M{lever, 1, x}, V{0, 0, 1};
            for (size_t i = 0; i < 3; ++i)
                for (size_t j = 0; j < 3; ++j)
                    total[3 * i + j] += weight * (beta(0, 0) * (N[i] * N[j] / h + 12 * M[i] * M[j] / (h * h * h)) +
                                                  1.2 * beta(2, 2) * V[i] * V[j] / h + beta(0, 2) * (N[i] * V[j] + N[j] * V[i]) / h);
        }
    };
    add(g.skin_end, 0, step.skin, 0);
    add(0, g.rim_end, step.thick, step.top != TopFace::free ? 0 : (step.thick - step.skin) / 2);
    return total;
}

PerLoad per_load(const Eigen::Matrix<double, 1, n_loads>& row) {
    PerLoad values{};
    for (size_t l = 0; l < n_loads; ++l) values[l] = row[static_cast<Index>(l)];
    return values;
}

/// Means of the stresses along a line of cells' edges over `length`, starting where the line starts. The line: cells in turn,
/// each run through from xi0 to xi1 at a fixed eta (or eta0 to eta1 at a fixed xi).
struct EdgeRun {
    int column, row;
    bool along_x;
    double fixed;    ///< the other local coordinate
    double from, to; ///< the running one
};
struct EdgeMeans {
    PerLoad normal_x{}, along{}, normal_z{}, shear{};
};
EdgeMeans means_along(const StepSolver& solver, const StepGrid& g, const std::vector<EdgeRun>& runs, double length) {
    Eigen::Matrix<double, 4, n_loads> sum = Eigen::Matrix<double, 4, n_loads>::Zero();
    double done = 0;
    for (const EdgeRun& run : runs) {
        if (done >= length * (1 - 1e-12)) break;
        const MatrixXd u = solver.movements(run.column, run.row);
        const auto c = static_cast<size_t>(run.column), r = static_cast<size_t>(run.row);
        const double half = run.along_x ? (g.xs[c + 1] - g.xs[c]) / 2 : (g.zs[r + 1] - g.zs[r]) / 2;
        const auto at = [&](double s) { return run.along_x ? strain_at(g, run.column, run.row, s, run.fixed) : strain_at(g, run.column, run.row, run.fixed, s); };
        const auto speed = [&](const StepPlace& p) {
            return half * (run.along_x ? std::hypot(p.x_X, p.z_X) : std::hypot(p.x_Z, p.z_Z));
        };
        const Rule& rule = gauss_rule(n1 + 2);
        const auto arc = [&](double to) {
            double l = 0;
            for (size_t q = 0; q < rule.points.size(); ++q)
                l += rule.weights[q] / 2 * std::abs(to - run.from) * speed(at(run.from + (to - run.from) * (1 + rule.points[q]) / 2).place);
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
            const StepPlace p = at(s).place;
            const double weight = rule.weights[q] / 2 * std::abs(end - run.from) * speed(p);
            const Eigen::Matrix<double, 3, n_loads> stress = run.along_x ? solver.stress(u, run.column, run.row, s, run.fixed)
                                                                         : solver.stress(u, run.column, run.row, run.fixed, s);
            const double tx = run.along_x ? p.x_X : p.x_Z, tz = run.along_x ? p.z_X : p.z_Z, norm = tx * tx + tz * tz;
            sum.row(0) += weight * stress.row(0);
            sum.row(1) += weight * (tx * tx * stress.row(0) + tz * tz * stress.row(1) + 2 * tx * tz * stress.row(2)) / norm;
            sum.row(2) += weight * stress.row(1);
            sum.row(3) += weight * stress.row(2);
        }
        done += arc(end);
    }
    sum /= done;
    return {per_load(sum.row(0)), per_load(sum.row(1)), per_load(sum.row(2)), per_load(sum.row(3))};
}

void measure_stresses(const StepSolver& solver, const StepGrid& g, const StepSection& step, StepAnswer& answer) {
    std::vector<EdgeRun> under, over, level;
    for (int column = g.skin_columns - 1; column >= 0; --column) under.push_back({column, g.low_rows, true, -1, 1, -1});
    for (int column = g.skin_columns - 1; column >= 0; --column) over.push_back({column, g.rows() - 1, true, 1, 1, -1});
    for (int column = g.skin_columns; column < g.columns(); ++column) level.push_back({column, g.low_rows, true, -1, -1, 1});
    answer.underside = means_along(solver, g, under, step.skin).along;
    answer.top = means_along(solver, g, over, step.skin).normal_x;
    const EdgeMeans inside = means_along(solver, g, level, step.skin);
    answer.peel = inside.normal_z;
    answer.slip = inside.shear;
    if (g.radius <= 0) return;
    // along the surface: the skin beside the root, the root's two halves
    constexpr int points_a_cell = 12;
    const auto add = [&](int column, int row, bool along_x, double fixed) {
        const MatrixXd u = solver.movements(column, row);
        for (int k = 0; k <= points_a_cell; ++k) {
            const double s = 2.0 * k / points_a_cell - 1;
            const double xi = along_x ? s : fixed, eta = along_x ? fixed : s;
            const StepPlace p = strain_at(g, column, row, xi, eta).place;
            const auto stress = solver.stress(u, column, row, xi, eta);
            const double tx = along_x ? p.x_X : p.x_Z, tz = along_x ? p.z_X : p.z_Z;
            answer.along_root.push_back(per_load((tx * tx * stress.row(0) + tz * tz * stress.row(1) + 2 * tx * tz * stress.row(2)) / (tx * tx + tz * tz)));
        }
    };
    for (int column = std::max(0, g.skin_columns - 3); column < g.skin_columns; ++column) add(column, g.low_rows, true, -1);
    for (int row = g.low_rows - 1; row >= 0 && g.zs[static_cast<size_t>(row) + 1] > -g.skin - g.radius + 1e-9; --row) add(g.skin_columns, row, false, -1);
}

/// G = -1/2 u' dK/da u with the lines about the tip moved along the crack (Parks 1974). They move together, so that the cells
/// touching the tip, which know its singular field least, only move and do not count. The cells' stiffness is a smooth function
/// of the lines' place: its derivative by central difference.
void measure_release(const StepSolver& solver, const StepGrid& g, const StepSection& step, StepAnswer& answer) {
    const int tip = g.skin_columns + g.crack_columns; // the line
    const int along = std::min({2, g.crack_columns - 1, g.columns() - tip - 1});
    StepGrid ahead = g, behind = g;
    const auto first = static_cast<size_t>(tip - along), last = static_cast<size_t>(tip + along);
    const double by = 1e-4 * std::min(g.xs[first] - g.xs[first - 1], g.xs[last + 1] - g.xs[last]);
    for (size_t line = first; line <= last; ++line) {
        ahead.xs[line] += by;
        behind.xs[line] -= by;
    }
    Eigen::Matrix<double, n_loads, n_loads> G = Eigen::Matrix<double, n_loads, n_loads>::Zero();
    for (int column = tip - along - 1; column <= tip + along; ++column)
        for (int row = 0; row < g.rows(); ++row) {
            const MatrixXd u = solver.movements(column, row);
            const MatrixXd slope = (cell_stiffness(ahead, step.C, column, row) - cell_stiffness(behind, step.C, column, row)) / (2 * by);
            G -= 0.5 * u.transpose() * slope * u;
        }
    for (int i = 0; i < n_loads; ++i)
        for (int j = 0; j < n_loads; ++j) answer.release[static_cast<size_t>(i)][static_cast<size_t>(j)] = (G(i, j) + G(j, i)) / 2;
}

} // namespace

StepAnswer solve_step(const StepSection& step) {
    HOLLOWTOP_ASSERT(step.crack == 0 || step.crack > 0.199 * std::min(step.skin, step.thick - step.skin));
    const StepGrid grid = step_grid(step);
    StepSolver solver(grid, step);
    if (step.moves_along) load_along(solver, grid, step);
    else load_ends(solver, grid, step);
    solver.solve();
    StepAnswer answer;
    answer.dofs = solver.n_step_dofs();
    const auto work = solver.work();
    if (!work.allFinite()) refuse();
    const Matrix3 beams = step.moves_along ? work_along(grid, step) : beam_work(grid, step);
    for (size_t i = 0; i < 3; ++i)
        for (size_t j = 0; j < 3; ++j) {
            const auto a = static_cast<Index>(i), b = static_cast<Index>(j);
            answer.extra[3 * i + j] = (work(a, b) + work(b, a)) / 2 - beams[3 * i + j];
        }
    answer.work = work.diagonal().maxCoeff();
    if (step.moves_along) return answer;
    measure_stresses(solver, grid, step, answer);
    if (step.crack > 0) measure_release(solver, grid, step, answer);
    return answer;
}

} // namespace hollowtop
