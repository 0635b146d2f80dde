// SPDX-License-Identifier: MIT
#include "solver/model/rigid_motions.hpp"

#include "materials/error.hpp"
#include "solver/numeric/symmetric_eigen.hpp"

#include <Eigen/Core>

#include <algorithm>

namespace hollowtop {
namespace {

using Matrix6d = Eigen::Matrix<double, 6, 6>;
using Vector6d = Eigen::Matrix<double, 6, 1>;

/// The six rigid motions at a dof of a node, rotations about the top's centre and scaled by its size.
struct RigidMotions {
    const Shell& shell;
    Point centre{};
    double size = 1;

    explicit RigidMotions(const Shell& s) : shell(s) {
        const Mesh& mesh = s.mesh;
        centre = {(mesh.xs.front() + mesh.xs.back()) / 2, (mesh.ys.front() + mesh.ys.back()) / 2};
        size = std::max(mesh.xs.back() - mesh.xs.front(), mesh.ys.back() - mesh.ys.front()) / 2;
    }
    /// Rows u v w bx by at a point, for dofs of the reference surface.
    Eigen::Matrix<double, 5, 6> rows(Point p) const {
        const double x = (p.x - centre.x) / size, y = (p.y - centre.y) / size;
        Eigen::Matrix<double, 5, 6> r = Eigen::Matrix<double, 5, 6>::Zero();
        r(0, 0) = 1; // along x
        r(1, 1) = 1; // along y
        r(2, 2) = 1; // up
        r(2, 3) = y; // about x: w = y, v = -z
        r(4, 3) = -1 / size;
        r(2, 4) = x; // about y: w = x, u = -z
        r(3, 4) = -1 / size;
        r(0, 5) = -y; // about z
        r(1, 5) = x;
        return r;
    }
    Eigen::Matrix<double, 5, 6> node_rows(int node) const {
        Eigen::Matrix<double, 5, 6> r = rows(shell.node_point(node));
        const auto level = shell.levels.find(node);
        if (level != shell.levels.end()) {
            r.row(0) += level->second.zu * r.row(3);
            r.row(1) += level->second.zv * r.row(4);
        }
        return r;
    }
};

/// Nodes of cells that lie wholly on the top: a pin elsewhere could hang in the void.
std::vector<int> sound_nodes(const Shell& shell) {
    std::vector<int> nodes;
    const Mesh& mesh = shell.mesh;
    for (const bool accept_cut : {false, true}) {
        for (int j = 0; j < mesh.ny(); ++j)
            for (int i = 0; i < mesh.nx(); ++i) {
                const Cell& cell = mesh.cell(i, j);
                if (!cell.active || (cell.cut && !accept_cut)) continue;
                for (const int b : {0, shell.order})
                    for (const int a : {0, shell.order})
                        nodes.push_back(shell.node(i * shell.order + a, j * shell.order + b));
            }
        if (!nodes.empty()) break;
    }
    std::sort(nodes.begin(), nodes.end());
    nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
    return nodes;
}

} // namespace

std::vector<std::vector<double>> free_rigid_motions(const Shell& shell) {
    const RigidMotions motions(shell);
    Matrix6d gram = Matrix6d::Zero();
    for (const int dof : shell.stiffness.held) {
        Vector6d row = motions.node_rows(dof / dofs_per_node).row(dof % dofs_per_node).transpose();
        if (dof % dofs_per_node >= 3) row *= motions.size;
        gram += row * row.transpose();
    }
    for (const HeldPoint& point : shell.held_points) {
        const Eigen::Map<const Eigen::Matrix<double, 5, 1>> form(point.row.data());
        Vector6d row = motions.rows(point.at).transpose() * form;
        if (form.head<3>().norm() == 0) row *= motions.size;
        gram += row * row.transpose();
    }
    const SymmetricEigen eigen = symmetric_eigen({gram.data(), 36}, 6);
    const double greatest = eigen.values[5];
    std::vector<Vector6d> null_space;
    for (size_t k = 0; k < 6; ++k) {
        if (greatest > 0 && eigen.values[k] > 1e-10 * greatest) break;
        if (greatest > 0)
            null_space.push_back(Eigen::Map<const Vector6d>(eigen.vectors.data() + 6 * k));
        else
            null_space.push_back(Vector6d::Unit(static_cast<Eigen::Index>(k)));
        // rounding must not turn a movement in the plane into one that a vertical load would drive
        const double least = 1e-9 * null_space.back().cwiseAbs().maxCoeff();
        null_space.back() = (null_space.back().array().abs() < least).select(0, null_space.back());
    }
    const int n_nodes = shell.stiffness.grid.n_nodes();
    std::vector<std::vector<double>> rigid(
        null_space.size(), std::vector<double>(static_cast<size_t>(n_nodes * dofs_per_node), 0));
    for (int node = 0; node < n_nodes; ++node) {
        const Eigen::Matrix<double, 5, 6> rows = motions.node_rows(node);
        for (size_t k = 0; k < null_space.size(); ++k) {
            const Eigen::Matrix<double, 5, 1> values = rows * null_space[k];
            for (int c = 0; c < dofs_per_node; ++c)
                rigid[k][static_cast<size_t>(node * dofs_per_node + c)] = values[c];
        }
    }
    for (std::vector<double>& mode : rigid)
        for (const int dof : shell.stiffness.held) mode[static_cast<size_t>(dof)] = 0;
    return rigid;
}

std::vector<int> pins_for(const Shell& shell, const std::vector<std::vector<double>>& rigid) {
    const auto m = static_cast<Eigen::Index>(rigid.size());
    std::vector<int> pins;
    if (m == 0) return pins;
    std::vector<int> candidates;
    for (const int node : sound_nodes(shell))
        for (int c = 0; c < 3; ++c) {
            const int dof = node * dofs_per_node + c;
            if (!std::binary_search(shell.stiffness.held.begin(), shell.stiffness.held.end(), dof))
                candidates.push_back(dof);
        }
    Eigen::MatrixXd rows(static_cast<Eigen::Index>(candidates.size()), m);
    for (size_t i = 0; i < candidates.size(); ++i)
        for (Eigen::Index k = 0; k < m; ++k)
            rows(static_cast<Eigen::Index>(i), k) =
                rigid[static_cast<size_t>(k)][static_cast<size_t>(candidates[i])];
    for (Eigen::Index k = 0; k < m; ++k) {
        Eigen::Index best = 0;
        rows.rowwise().squaredNorm().maxCoeff(&best);
        if (rows.row(best).norm() < 1e-9)
            throw Error(ErrorKind::not_computable, {.place = "supports",
                                                    .what = "the top cannot be held in place",
                                                    .remedy = "check the held lines"});
        pins.push_back(candidates[static_cast<size_t>(best)]);
        const Eigen::RowVectorXd direction = rows.row(best).normalized();
        rows -= (rows * direction.transpose()) * direction;
    }
    std::sort(pins.begin(), pins.end());
    return pins;
}

} // namespace hollowtop
