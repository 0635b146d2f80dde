// SPDX-License-Identifier: MIT
#include "solver/model/contact_system.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {

double compliance_of(const Connection& connection, double creep_factor, double slip) {
    return connection.compliance * (1 + connection.creep * (creep_factor - 1)) *
           (connection.kind == ConnectionKind::shear ? slip : 1);
}

namespace {

ContactProblem problem_of(const Model& model, const ConnectionSet& set, size_t n, int n_bars,
                          double creep_factor, double slip) {
    ContactProblem problem;
    const size_t all = set.all.size();
    problem.n_points = static_cast<int>(n);
    problem.n_rigid = static_cast<int>(model.rigid.size()) + 6 * n_bars;
    problem.shared_compliance = set.between->after_creep(creep_factor);
    problem.stride = static_cast<int>(all);
    for (size_t i = 0; i < n; ++i)
        problem.own_compliance.push_back(compliance_of(set.all[i], creep_factor, slip));
    const std::vector<double> rigid = rigid_at_connections(model, set);
    for (size_t k = 0; k < static_cast<size_t>(problem.n_rigid); ++k)
        problem.rigid.insert(problem.rigid.end(), rigid.begin() + static_cast<std::ptrdiff_t>(k * all),
                             rigid.begin() + static_cast<std::ptrdiff_t>(k * all + n));
    for (size_t i = 0; i < n; ++i) problem.two_sided.push_back(set.all[i].two_sided);
    return problem;
}

} // namespace

ContactSystem::ContactSystem(const Model& model, const ConnectionSet& set, int n_connections, int n_bars,
                             double creep_factor, double slip)
    : model_(&model), set_(&set), n_connections_(static_cast<size_t>(n_connections)), n_bars_(n_bars),
      creep_factor_(creep_factor), slip_(slip),
      solver_(problem_of(model, set, n_connections_, n_bars, creep_factor, slip)) {}

ContactState ContactSystem::solve(const ContactLoad& load, std::span<const char> first_guess) const {
    return solve_from(at_points(model_->columns->forces, load.moved), load.forces, load.weight, first_guess);
}

ContactAnswer ContactSystem::answer_to(const std::vector<double>& at_columns, std::vector<double> on_rigid,
                                       double weight, std::span<const char> first_guess) const {
    const ConnectionMovement movement = movement_from_columns(*model_, *set_, at_columns, weight);
    std::vector<double> approach(n_connections_);
    for (size_t i = 0; i < n_connections_; ++i)
        approach[i] = creep_factor_ * movement.soft[i] + movement.stiff[i];
    std::vector<double> unbalanced = std::move(on_rigid);
    for (int bar = 0; bar < n_bars_; ++bar)
        for (const double work : rigid_work_of_weight(model_->bars.beams[static_cast<size_t>(bar)]))
            unbalanced.push_back(weight * work);
    // rounding must not pass for a load: vertical loads have none along x, y or about z
    double scale = 1e-300;
    for (const double r : unbalanced) scale = std::max(scale, std::abs(r));
    for (double& r : unbalanced)
        if (std::abs(r) < 1e-13 * scale) r = 0;
    return solver_.solve(approach, unbalanced, first_guess);
}

ContactState ContactSystem::solve_from(const std::vector<double>& at_columns,
                                       const std::vector<double>& forces, double weight,
                                       std::span<const char> first_guess) const {
    ContactState state{.answer = answer_to(at_columns, work_on_rigid(*model_, forces), weight, first_guess),
                       .forces = std::vector<double>(forces.size(), 0)};
    add_connection_forces(*model_, *set_, state.answer.force, state.forces);
    return state;
}

void add_connection_forces(const Model& model, const ConnectionSet& set, std::span<const double> force,
                           std::span<double> nodal) {
    const SparseColumns& columns = model.columns->forces;
    for (size_t i = 0; i < force.size(); ++i)
        for (const ConnectionShare& share : set.all[i].top)
            for (int k = columns.start[static_cast<size_t>(share.column)];
                 k < columns.start[static_cast<size_t>(share.column) + 1]; ++k)
                nodal[static_cast<size_t>(columns.dof[static_cast<size_t>(k)])] +=
                    force[i] * share.share * columns.value[static_cast<size_t>(k)];
}

} // namespace hollowtop
