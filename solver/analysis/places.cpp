// SPDX-License-Identifier: MIT
#include "solver/analysis/places.hpp"

#include <algorithm>
#include <numeric>

namespace hollowtop {
namespace {

std::vector<std::vector<double>> solved_columns(const Model& model) {
    const SparseColumns& columns = model.columns->forces;
    const auto n = static_cast<size_t>(model.factor->n_dofs()), count = static_cast<size_t>(columns.count());
    std::vector<double> all(n * count, 0);
    for (size_t c = 0; c < count; ++c)
        for (int k = columns.start[c]; k < columns.start[c + 1]; ++k)
            all[c * n + static_cast<size_t>(columns.dof[static_cast<size_t>(k)])] += columns.value[static_cast<size_t>(k)];
    model.factor->solve(all, static_cast<int>(count));
    std::vector<std::vector<double>> solved;
    for (size_t c = 0; c < count; ++c)
        solved.emplace_back(all.begin() + static_cast<std::ptrdiff_t>(c * n), all.begin() + static_cast<std::ptrdiff_t>((c + 1) * n));
    return solved;
}

} // namespace

PlaceSolver::PlaceSolver(const Model& model)
    : model_(&model), standing_(model.loads.size()), influence_(solved_columns(model)), hull_(convex_hull(resting_places(model))),
      tying_(model, model.ties, static_cast<int>(model.ties.ties.size()), model.ties.n_bars, 1) {
    std::iota(standing_.begin(), standing_.end(), 0);
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    standing_forces_.assign(n, 0);
    std::vector<double> moved(n, 0);
    for (size_t k = 0; k < model.loads.size(); ++k) {
        with_weight_ = with_weight_ || model.loads[k].is_own_weight;
        for (size_t i = 0; i < n; ++i) {
            standing_forces_[i] += model.loads[k].forces[i];
            moved[i] += model.moved[k][i];
        }
    }
    standing_at_columns_ = at_points(model.columns->forces, moved);
    standing_resultant_ = resultant_of_loads(model, standing_);
}

std::vector<PlaceAnswer> PlaceSolver::solve(std::span<const Load> placed) const {
    const Model& model = *model_;
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    std::vector<PlaceAnswer> answers(placed.size());
    std::vector<Tied> ties;
    std::vector<size_t> held; // places in which the top does not tip
    std::vector<double> columns;
    std::vector<char> guess;
    for (size_t p = 0; p < placed.size(); ++p) {
        std::vector<double> forces = nodal_forces(model.shell, load_points(model.shell, placed[p], "loads"));
        const Resultant passing = resultant_of(model.shell, forces);
        if (model.supports.all_one_sided) answers[p].tipping = tipping_of(hull_, standing_resultant_, passing);
        if (answers[p].tipping && answers[p].tipping->factor <= 1) continue;
        std::vector<size_t> loaded;
        for (size_t i = 0; i < n; ++i)
            if (forces[i] != 0) loaded.push_back(i);
        std::vector<double> at_columns = standing_at_columns_;
        for (size_t c = 0; c < influence_.size(); ++c)
            for (const size_t i : loaded) at_columns[c] += influence_[c][i] * forces[i];
        for (size_t i = 0; i < n; ++i) forces[i] += standing_forces_[i];
        Tied tied = tying_.solve_from(at_columns, forces, with_weight_, guess);
        if (!tied.answer.balanced) continue;
        guess = tied.answer.presses;
        SolvedSituation s;
        s.plan = {.name = placed[p].name, .duration = placed[p].duration, .stage = Stage::passing, .loads = standing_, .passing = -1, .softening = 1};
        s.applied = {standing_resultant_.force + passing.force, standing_resultant_.x_moment + passing.x_moment, standing_resultant_.y_moment + passing.y_moment};
        if (answers[p].tipping) s.tipping_factor = answers[p].tipping->factor;
        answers[p].solved = std::move(s);
        const size_t first = columns.size();
        columns.resize(first + n);
        for (size_t i = 0; i < n; ++i) columns[first + i] = forces[i] + tied.forces[i];
        held.push_back(p);
        ties.push_back(std::move(tied));
    }
    if (held.empty()) return answers;
    model.factor->solve(columns, static_cast<int>(held.size()));
    for (size_t h = 0; h < held.size(); ++h) {
        SolvedSituation& s = *answers[held[h]].solved;
        const ContactAnswer& answer = ties[h].answer;
        s.dofs.assign(columns.begin() + static_cast<std::ptrdiff_t>(h * n), columns.begin() + static_cast<std::ptrdiff_t>((h + 1) * n));
        for (size_t k = 0; k < model.rigid.size(); ++k)
            for (size_t i = 0; i < n; ++i) s.dofs[i] += answer.rigid_motion[k] * model.rigid[k][i];
        to_reference_surface(model.shell, s.dofs);
        const auto n_points = static_cast<std::ptrdiff_t>(model.points.size());
        s.point_force.assign(answer.force.begin(), answer.force.begin() + n_points);
        s.point_presses.assign(answer.presses.begin(), answer.presses.begin() + n_points);
        s.tie_force = answer.force;
        s.tie_gap = answer.gap;
        s.tie_presses = answer.presses;
        s.support_force.assign(model.supports.centres.size(), 0);
        for (int i = 0; i < model.n_bare; ++i) {
            const Tie& tie = model.ties.ties[static_cast<size_t>(i)];
            if (tie.support >= 0) s.support_force[static_cast<size_t>(tie.support)] += s.tie_force[static_cast<size_t>(i)];
        }
    }
    return answers;
}

} // namespace hollowtop
