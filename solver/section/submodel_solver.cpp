// SPDX-License-Identifier: MIT
#include "solver/section/submodel_solver.hpp"

#include "materials/error.hpp"
#include "solver/numeric/quadrature.hpp"
#include "solver/section/submodel_element.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include <algorithm>
#include <map>
#include <utility>

namespace hollowtop {

using namespace quad;

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr int n_loads = n_submodel_loads;

[[noreturn]] void refuse() {
    throw Error(ErrorKind::not_computable, {.place = "top",
                                            .what = "the section at a recess wall could not be solved",
                                            .remedy = "look at the elastic constants"});
}

/// Which local nodes lie on the cell's edge, and which inside.
struct LocalSplit {
    std::vector<int> edge, inner; ///< local dofs
    LocalSplit() {
        for (int b = 0; b < n1; ++b)
            for (int a = 0; a < n1; ++a)
                for (int c = 0; c < 2; ++c)
                    (a == 0 || a == order || b == 0 || b == order ? edge : inner)
                        .push_back(2 * (b * n1 + a) + c);
    }
};
const LocalSplit& local_split() {
    static const LocalSplit split;
    return split;
}

/// The whole solve: numbering, column by column elimination, movements of every cell.
class Solver {
  public:
    Solver(const SubmodelMesh& grid, const SubmodelSection& section) : g_(grid), section_(section) {
        number();
    }

    void add(const EdgeTraction& traction) {
        const int column = traction.column;
        const bool at_right = traction.at_right;
        const Rule& rule = gauss_rule(n1);
        for (int row = 0; row < (traction.rows > 0 ? traction.rows : g_.rows()); ++row) {
            if (!g_.has(column, row)) continue;
            const auto r = static_cast<size_t>(row), c = static_cast<size_t>(at_right ? column + 1 : column);
            const double h = (g_.zs[r + 1] - g_.zs[r]) / 2;
            for (size_t q = 0; q < rule.points.size(); ++q) {
                const SubmodelPoint p =
                    place_in(g_, column, row, g_.xs[c], g_.zs[r] + h * (1 + rule.points[q]));
                const auto t = traction.at(p.z);
                const Basis1d basis = lagrange_basis(order, rule.points[q]);
                for (int b = 0; b < n1; ++b) {
                    const int node = node_of(column, row, at_right ? order : 0, b);
                    const double weight = rule.weights[q] * h * p.z_Z * basis.value[static_cast<size_t>(b)];
                    for (int k = 0; k < 2; ++k)
                        for (int l = 0; l < n_loads; ++l)
                            force_(2 * node + k, l) +=
                                weight * t[static_cast<size_t>(k)][static_cast<size_t>(l)];
                }
            }
        }
    }

    void solve() {
        hold();
        eliminate();
        substitute();
    }

    SubmodelSolution solution() const {
        SubmodelSolution all;
        all.n_dofs = static_cast<int>(force_.rows());
        const Eigen::Matrix<double, n_loads, n_loads> work = force_.transpose() * moved_;
        for (int i = 0; i < n_loads; ++i)
            for (int j = 0; j < n_loads; ++j)
                all.work[static_cast<size_t>(i)][static_cast<size_t>(j)] = work(i, j);
        all.n_rows = g_.rows();
        for (int column = 0; column < g_.columns(); ++column)
            for (int row = 0; row < g_.rows(); ++row) {
                all.cells.emplace_back();
                if (!g_.has(column, row)) continue;
                const MatrixXd u = movements(column, row);
                all.cells.back().assign(u.data(), u.data() + u.size());
            }
        return all;
    }

  private:
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
        for (size_t k = 0; k < split.inner.size(); ++k)
            u.row(split.inner[k]) = inner.row(static_cast<Index>(k));
        return u;
    }
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
        spring_[2 * top] = spring_[2 * low] = section_.C[0];
        if (section_.rim_end_held) {
            for (int row = 0; row < g_.rows(); ++row)
                for (int b = 0; b < n1; ++b) spring_[2 * node_of(last, row, order, b)] = 1e7 * section_.C[0];
        }
        spring_[2 * top + 1] = section_.C[0];
        if (section_.top == TopFace::free) return;
        const bool pulled = section_.top == TopFace::pulled_bar;
        for (int column = 0; column < g_.columns(); ++column)
            for (int a = 0; a < n1; ++a)
                spring_[2 * node_of(column, top_row, a, order) + (pulled ? 1 : 0)] = 1e6 * section_.C[0];
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
        const auto n_inner = static_cast<Index>(split.inner.size()),
                   n_edge = static_cast<Index>(split.edge.size());
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
            std::stable_partition(dofs.begin(), dofs.end(),
                                  [&](int d) { return column_of_[static_cast<size_t>(d / 2)] < stays_from; });
            const auto n = static_cast<Index>(dofs.size());
            for (Index k = 0; k < n; ++k)
                position[static_cast<size_t>(dofs[static_cast<size_t>(k)])] = static_cast<int>(k);
            MatrixXd K = MatrixXd::Zero(n, n), f = MatrixXd::Zero(n, n_loads);
            std::vector<char> is_carried(static_cast<size_t>(force_.rows()), 0);
            for (size_t i = 0; i < carried.size(); ++i) {
                is_carried[static_cast<size_t>(carried[i])] = 1;
                const Index pi = position[static_cast<size_t>(carried[i])];
                f.row(pi) = carried_right.row(static_cast<Index>(i));
                for (size_t j = 0; j < carried.size(); ++j)
                    K(pi, position[static_cast<size_t>(carried[j])]) =
                        carried_matrix(static_cast<Index>(i), static_cast<Index>(j));
            }
            for (Index k = 0; k < n; ++k) {
                const int d = dofs[static_cast<size_t>(k)];
                if (is_carried[static_cast<size_t>(d)]) continue;
                f.row(k) += force_.row(d);
                K(k, k) += spring_[d];
            }
            for (int row = 0; row < g_.rows(); ++row) {
                if (!g_.has(column, row)) continue;
                std::vector<double> stiffness = cell_stiffness(g_, section_.C, column, row);
                Eigen::Map<MatrixXd> cell(stiffness.data(), n_dofs, n_dofs);
                if (section_.moves_along) {
                    for (int j = 0; j < n_dofs; ++j)
                        for (int i = (j + 1) % 2; i < n_dofs; i += 2) cell(i, j) = 0;
                }
                MatrixXd inner(n_inner, n_inner), mixed(n_inner, n_edge), edge(n_edge, n_edge);
                for (Index j = 0; j < n_inner; ++j)
                    for (Index i = 0; i < n_inner; ++i)
                        inner(i, j) =
                            cell(split.inner[static_cast<size_t>(i)], split.inner[static_cast<size_t>(j)]);
                for (Index j = 0; j < n_edge; ++j) {
                    for (Index i = 0; i < n_inner; ++i)
                        mixed(i, j) =
                            cell(split.inner[static_cast<size_t>(i)], split.edge[static_cast<size_t>(j)]);
                    for (Index i = 0; i < n_edge; ++i)
                        edge(i, j) =
                            cell(split.edge[static_cast<size_t>(i)], split.edge[static_cast<size_t>(j)]);
                }
                const Eigen::LLT<MatrixXd> factor(inner);
                if (factor.info() != Eigen::Success) refuse();
                MatrixXd follows = factor.solve(mixed);
                edge.noalias() -= mixed.transpose() * follows;
                cells_.emplace(std::pair{column, row}, std::move(follows));
                const std::vector<int> at = edge_dofs(column, row);
                for (Index j = 0; j < n_edge; ++j)
                    for (Index i = 0; i < n_edge; ++i)
                        K(position[static_cast<size_t>(at[static_cast<size_t>(i)])],
                          position[static_cast<size_t>(at[static_cast<size_t>(j)])]) += edge(i, j);
            }
            const auto split_at = std::partition_point(dofs.begin(), dofs.end(), [&](int d) {
                return column_of_[static_cast<size_t>(d / 2)] < stays_from;
            });
            const auto n_gone = static_cast<Index>(split_at - dofs.begin()), n_kept = n - n_gone;
            Front front{.gone = {dofs.begin(), split_at},
                        .kept = {split_at, dofs.end()},
                        .factor = Eigen::LLT<MatrixXd>(K.topLeftCorner(n_gone, n_gone)),
                        .coupling = K.bottomLeftCorner(n_kept, n_gone),
                        .right = f.topRows(n_gone)};
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
            for (size_t k = 0; k < front->kept.size(); ++k)
                kept.row(static_cast<Index>(k)) = moved_.row(front->kept[k]);
            MatrixXd u = front->right;
            u.noalias() -= front->coupling.transpose() * kept;
            if (u.size() > 0) front->factor.solveInPlace(u);
            for (size_t k = 0; k < front->gone.size(); ++k)
                moved_.row(front->gone[k]) = u.row(static_cast<Index>(k));
        }
    }

    const SubmodelMesh& g_;
    const SubmodelSection& section_;
    std::map<std::pair<int, int>, int> nodes_;
    std::vector<int> column_of_;
    MatrixXd force_, moved_;
    VectorXd spring_;
    std::map<std::pair<int, int>, MatrixXd> cells_; ///< how a cell's inner dofs follow its edge
    std::vector<Front> fronts_;
};

} // namespace

SubmodelSolution solve_on(const SubmodelMesh& grid, const SubmodelSection& section,
                          const std::vector<EdgeTraction>& tractions) {
    Solver solver(grid, section);
    for (const EdgeTraction& traction : tractions) solver.add(traction);
    solver.solve();
    SubmodelSolution solution = solver.solution();
    for (const PerLoad& row : solution.work)
        for (const double work : row)
            if (!std::isfinite(work)) refuse();
    return solution;
}

} // namespace hollowtop
