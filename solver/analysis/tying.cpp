// SPDX-License-Identifier: MIT
#include "solver/analysis/tying.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {

double compliance_of(const Tie& tie, double softening, double slip) {
    return tie.compliance * (1 + tie.creep * (softening - 1)) * (tie.kind == TieKind::shear ? slip : 1);
}

namespace {

ContactProblem problem_of(const Model& model, const TieSet& set, size_t n, int n_bars, double softening, double slip) {
    ContactProblem problem;
    const size_t all = set.ties.size();
    problem.n_points = static_cast<int>(n);
    problem.n_rigid = static_cast<int>(model.rigid.size()) + 6 * n_bars;
    problem.shared_flexibility = set.between->softened(softening);
    problem.stride = static_cast<int>(all);
    for (size_t i = 0; i < n; ++i) problem.give.push_back(compliance_of(set.ties[i], softening, slip));
    const std::vector<double> rigid = rigid_at_ties(model, set);
    for (size_t k = 0; k < static_cast<size_t>(problem.n_rigid); ++k)
        problem.rigid.insert(problem.rigid.end(), rigid.begin() + static_cast<std::ptrdiff_t>(k * all), rigid.begin() + static_cast<std::ptrdiff_t>(k * all + n));
    for (size_t i = 0; i < n; ++i) problem.two_sided.push_back(set.ties[i].two_sided);
    return problem;
}

} // namespace

Tying::Tying(const Model& model, const TieSet& set, int n_ties, int n_bars, double softening, double slip)
    : model_(&model), set_(&set), n_ties_(static_cast<size_t>(n_ties)), n_bars_(n_bars), softening_(softening), slip_(slip),
      solver_(problem_of(model, set, n_ties_, n_bars, softening, slip)) {}

Tied Tying::solve(const TiedLoad& load, std::span<const char> first_guess) const {
    return solve_from(at_points(model_->columns->forces, load.moved), load.forces, load.weight, first_guess);
}

ContactAnswer Tying::answer_to(const std::vector<double>& at_columns, std::vector<double> on_rigid, double weight, std::span<const char> first_guess) const {
    const TieMovement movement = movement_from_columns(*model_, *set_, at_columns, weight);
    std::vector<double> approach(n_ties_);
    for (size_t i = 0; i < n_ties_; ++i) approach[i] = softening_ * movement.soft[i] + movement.stiff[i];
    std::vector<double> unbalanced = std::move(on_rigid);
    for (int bar = 0; bar < n_bars_; ++bar)
        for (const double work : rigid_work_of_weight(model_->bars.beams[static_cast<size_t>(bar)])) unbalanced.push_back(weight * work);
    // rounding must not pass for a load: vertical loads have none along x, y or about z
    double scale = 1e-300;
    for (const double r : unbalanced) scale = std::max(scale, std::abs(r));
    for (double& r : unbalanced)
        if (std::abs(r) < 1e-13 * scale) r = 0;
    return solver_.solve(approach, unbalanced, first_guess);
}

Tied Tying::solve_from(const std::vector<double>& at_columns, const std::vector<double>& forces, double weight,
                       std::span<const char> first_guess) const {
    Tied tied{.answer = answer_to(at_columns, work_on_rigid(*model_, forces), weight, first_guess), .forces = std::vector<double>(forces.size(), 0)};
    add_tie_forces(*model_, *set_, tied.answer.force, tied.forces);
    return tied;
}

void add_tie_forces(const Model& model, const TieSet& set, std::span<const double> force, std::span<double> nodal) {
    const SparseColumns& columns = model.columns->forces;
    for (size_t i = 0; i < force.size(); ++i)
        for (const TieShare& share : set.ties[i].top)
            for (int k = columns.start[static_cast<size_t>(share.column)]; k < columns.start[static_cast<size_t>(share.column) + 1]; ++k)
                nodal[static_cast<size_t>(columns.dof[static_cast<size_t>(k)])] += force[i] * share.share * columns.value[static_cast<size_t>(k)];
}

} // namespace hollowtop
