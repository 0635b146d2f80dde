// SPDX-License-Identifier: MIT
#include "solver/vibration/top_modes.hpp"

#include "materials/error.hpp"
#include "solver/numeric/complementarity.hpp"
#include "solver/numeric/symmetric_eigen.hpp"
#include "solver/vibration/modes.hpp"
#include "solver/vibration/vibrating_mass.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace hollowtop {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

[[noreturn]] void refuse() {
    throw Error(ErrorKind::not_computable,
                {.place = "top",
                 .what = "the top's natural frequencies could not be found to enough digits",
                 .remedy = "try another --mesh"});
}

MatrixXd matrix_of(const std::vector<std::vector<double>>& columns, size_t n) {
    MatrixXd m(static_cast<Index>(n), static_cast<Index>(columns.size()));
    for (size_t k = 0; k < columns.size(); ++k)
        std::copy(columns[k].begin(), columns[k].end(), m.col(static_cast<Index>(k)).data());
    return m;
}

std::vector<std::vector<double>> columns_of(const MatrixXd& m) {
    std::vector<std::vector<double>> columns;
    for (Index k = 0; k < m.cols(); ++k) columns.emplace_back(m.col(k).data(), m.col(k).data() + m.rows());
    return columns;
}

std::span<const double> values_of(const MatrixXd& m) { return {m.data(), static_cast<size_t>(m.size())}; }

/// Movement of each column of the top's points in each of the shapes.
MatrixXd at_columns(const Model& model, const std::vector<std::vector<double>>& shapes) {
    MatrixXd at(model.columns->forces.count(), static_cast<Index>(shapes.size()));
    for (size_t k = 0; k < shapes.size(); ++k) {
        const std::vector<double> moved = at_points(model.columns->forces, shapes[k]);
        std::copy(moved.begin(), moved.end(), at.col(static_cast<Index>(k)).data());
    }
    return at;
}

/// What of the connections holds when the top is at rest.
std::vector<size_t> holding_connections(const Model& model, const std::vector<SolvedSituation>& solved) {
    const auto resting = std::find_if(solved.begin(), solved.end(), [](const SolvedSituation& s) {
        return s.plan.stage == Stage::at_once;
    });
    std::vector<size_t> holding;
    for (size_t i = 0; i < model.connections.all.size(); ++i)
        if (model.connections.all[i].two_sided || resting == solved.end() || resting->connection_presses[i])
            holding.push_back(i);
    return holding;
}

/// Mass of the stiffeners at each column of the top's points, kg: each upward column once, by the bonded
/// connections.
VectorXd mass_of_bars(const Model& model) {
    VectorXd mass = VectorXd::Zero(model.columns->forces.count());
    std::vector<double> area(model.bars.beams.size(), 0);
    const auto each_touch = [&](const auto& see) {
        for (const Connection& connection : model.bars.bonded_connections)
            if (model.bars.columns[static_cast<size_t>(connection.top.front().column)].direction[2] != 0)
                see(connection);
    };
    each_touch(
        [&](const Connection& connection) { area[static_cast<size_t>(connection.beam)] += connection.area; });
    each_touch([&](const Connection& connection) {
        const Beam& bar = model.bars.beams[static_cast<size_t>(connection.beam)];
        mass[static_cast<Index>(model.points.size()) + connection.top.front().column] =
            bar.weight * bar.length / standard_gravity * connection.area /
            area[static_cast<size_t>(connection.beam)];
    });
    return mass;
}

/// Rigid motions of the top that no support and no rail feels.
size_t loose_motions(const Model& model, const std::vector<size_t>& holding,
                     const MatrixXd& rigid_at_connections) {
    const Index m = rigid_at_connections.cols();
    if (m == 0) return 0;
    MatrixXd gram = MatrixXd::Zero(m, m);
    for (size_t t = 0; t < holding.size(); ++t)
        if (holding[t] < static_cast<size_t>(model.n_bare))
            gram += rigid_at_connections.row(static_cast<Index>(t)).transpose() *
                    rigid_at_connections.row(static_cast<Index>(t));
    const std::vector<double> felt = symmetric_eigen(values_of(gram), static_cast<int>(m)).values;
    return static_cast<size_t>(std::count_if(
        felt.begin(), felt.end(), [&](double f) { return f <= 1e-9 * std::max(felt.back(), 1e-300); }));
}

} // namespace

TopModes top_modes(const Model& model, int n_bent) {
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    const VibratingMass mass(model);
    TopModes modes;
    modes.n_rigid = static_cast<int>(model.rigid.size());
    if (modes.n_rigid > 0) {
        MatrixXd rigid = matrix_of(model.rigid, n), weighed(rigid.rows(), rigid.cols());
        mass.apply(rigid.data(), weighed.data(), modes.n_rigid);
        const MatrixXd gram = rigid.transpose() * weighed;
        const VectorXd scale = gram.diagonal().cwiseSqrt().cwiseInverse();
        const MatrixXd scaled = scale.asDiagonal() * gram * scale.asDiagonal();
        const SymmetricEigen eigen = symmetric_eigen(values_of(scaled), modes.n_rigid);
        if (!(eigen.values.front() > 1e-12)) refuse();
        MatrixXd turn = scale.asDiagonal() *
                        Eigen::Map<const MatrixXd>(eigen.vectors.data(), modes.n_rigid, modes.n_rigid);
        for (Index k = 0; k < turn.cols(); ++k)
            turn.col(k) /= std::sqrt(eigen.values[static_cast<size_t>(k)]);
        rigid = (rigid * turn).eval();
        weighed = (weighed * turn).eval();
        modes.shapes = columns_of(rigid);
        MatrixXd yields = weighed;
        model.factor->solve({yields.data(), static_cast<size_t>(yields.size())}, modes.n_rigid);
        const MatrixXd between = weighed.transpose() * yields;
        modes.yields = columns_of(yields);
        modes.between.assign(between.data(), between.data() + between.size());
        modes.lambda.assign(static_cast<size_t>(modes.n_rigid), 0);
    }
    ModeProblem problem;
    problem.n = static_cast<int>(n);
    problem.count = n_bent;
    problem.free_rigid_modes = model.rigid;
    problem.apply_stiffness_inverse = [&](double* columns, int count) {
        model.factor->solve({columns, n * static_cast<size_t>(count)}, count);
    };
    problem.apply_mass = [&](const double* in, double* out, int count) { mass.apply(in, out, count); };
    Modes bent = natural_modes(problem);
    if (!bent.converged) refuse();
    for (size_t k = 0; k < bent.shape.size(); ++k) {
        const double omega = 2 * std::numbers::pi * bent.frequency_Hz[k];
        modes.lambda.push_back(omega * omega / 1000); // 1 N = 1000 kg mm/s2
        modes.shapes.push_back(std::move(bent.shape[k]));
    }
    return modes;
}

std::vector<double> frequencies_on_bars(const Model& model, TopModes& modes,
                                        const std::vector<SolvedSituation>& solved, int count) {
    const std::vector<size_t> holding = holding_connections(model, solved);
    const Index n_connections = static_cast<Index>(holding.size()), n_columns = model.columns->forces.count();
    const Index n_rigid = modes.n_rigid, n_modes = static_cast<Index>(modes.shapes.size());
    // shapes, and what rigid swinging yields, at the columns and at the connections
    if (modes.seen_at != model.columns) {
        modes.seen_at = model.columns;
        modes.shapes_seen = columns_of(at_columns(model, modes.shapes));
        modes.yields_seen = columns_of(at_columns(model, modes.yields));
    }
    const auto n_seen = static_cast<size_t>(n_columns);
    const MatrixXd shape_columns = matrix_of(modes.shapes_seen, n_seen),
                   yield_columns = matrix_of(modes.yields_seen, n_seen);
    const auto at_connections = [&](const MatrixXd& columns) {
        MatrixXd at = MatrixXd::Zero(n_connections, columns.cols());
        for (Index t = 0; t < n_connections; ++t)
            for (const ConnectionShare& share : model.connections.all[holding[static_cast<size_t>(t)]].top)
                at.row(t) += share.share * columns.row(share.column);
        return at;
    };
    const MatrixXd shape_connections = at_connections(shape_columns),
                   yield_connections = at_connections(yield_columns);
    // what the modes left out would yield at rest: all that the floating top yields, less what the modes kept
    // do
    const Eigen::Map<const MatrixXd> between(modes.between.data(), n_rigid, n_rigid);
    const Index n_bent_modes = n_modes - n_rigid;
    const VectorXd per_lambda =
        Eigen::Map<const VectorXd>(modes.lambda.data() + n_rigid, n_bent_modes).cwiseInverse();
    const auto kept_part =
        [&](const MatrixXd& shapes,
            const MatrixXd& yields) -> MatrixXd { // columns of `shapes` against the connections
        MatrixXd part = shapes.rightCols(n_bent_modes) * per_lambda.asDiagonal() *
                        shape_connections.rightCols(n_bent_modes).transpose();
        if (n_rigid > 0) {
            part += shapes.leftCols(n_rigid) * yield_connections.transpose() +
                    yields * shape_connections.leftCols(n_rigid).transpose();
            part -= shapes.leftCols(n_rigid) * (between * shape_connections.leftCols(n_rigid).transpose());
        }
        return part;
    };
    const size_t all = model.connections.all.size();
    ContactProblem problem{.n_points = static_cast<int>(n_connections),
                           .n_rigid = 6 * model.connections.n_bars,
                           .compliance =
                               std::vector<double>(static_cast<size_t>(n_connections * n_connections)),
                           .approach = {},
                           .rigid = {},
                           .unbalanced = {},
                           .two_sided = std::vector<char>(holding.size(), 1)};
    const std::shared_ptr<const std::vector<double>> between_connections =
        model.connections.between->after_creep(1);
    Eigen::Map<MatrixXd> compliance(problem.compliance.data(), n_connections, n_connections);
    for (Index j = 0; j < n_connections; ++j)
        for (Index i = 0; i < n_connections; ++i) {
            const size_t at = holding[static_cast<size_t>(j)] * all + holding[static_cast<size_t>(i)];
            compliance(i, j) = (*between_connections)[at];
            if (i == j) compliance(i, j) += model.connections.all[holding[static_cast<size_t>(i)]].compliance;
        }
    const MatrixXd modal = kept_part(shape_connections, yield_connections);
    compliance -= 0.5 * (modal + modal.transpose());
    const std::vector<double> rigid = rigid_at_connections(model, model.connections);
    for (size_t k = model.rigid.size(); k < model.rigid.size() + static_cast<size_t>(problem.n_rigid); ++k)
        for (const size_t i : holding) problem.rigid.push_back(rigid[k * all + i]);
    const std::vector<double> held =
        ContactSolver(std::move(problem)).hold(values_of(shape_connections), static_cast<int>(n_modes));
    const Eigen::Map<const MatrixXd> forces(held.data(), n_connections, n_modes);
    MatrixXd stiffness = -shape_connections.transpose() * forces;
    for (Index k = 0; k < n_modes; ++k) stiffness(k, k) += modes.lambda[static_cast<size_t>(k)];
    // the bars go where the wood goes that they touch, its yielding counted
    const VectorXd bars = mass_of_bars(model);
    MatrixXd moved = shape_columns;
    MatrixXd column_forces = MatrixXd::Zero(n_columns, n_modes);
    for (Index t = 0; t < n_connections; ++t)
        for (const ConnectionShare& share : model.connections.all[holding[static_cast<size_t>(t)]].top)
            column_forces.row(share.column) += share.share * forces.row(t);
    const Eigen::Map<const MatrixXd> column_compliance(model.columns->compliance.data(), n_columns,
                                                       n_columns);
    moved += column_compliance * column_forces - kept_part(shape_columns, yield_columns) * forces;
    MatrixXd mass = MatrixXd::Identity(n_modes, n_modes);
    mass += moved.transpose() * bars.asDiagonal() * moved;
    stiffness = 0.5 * (stiffness + stiffness.transpose()).eval();

    const std::vector<double> lambda =
        symmetric_eigenvalues(values_of(stiffness), values_of(mass), static_cast<int>(n_modes));
    const size_t loose = loose_motions(model, holding, shape_connections.leftCols(n_rigid));
    std::vector<double> found;
    for (size_t k = loose; k < lambda.size() && found.size() < static_cast<size_t>(count); ++k) {
        if (!(lambda[k] > 0)) refuse();
        found.push_back(std::sqrt(1000 * lambda[k]) / (2 * std::numbers::pi));
    }
    if (found.size() < static_cast<size_t>(count)) refuse();
    return found;
}

} // namespace hollowtop
