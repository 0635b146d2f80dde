// SPDX-License-Identifier: MIT
#include "solver/situations/proof_of_solve.hpp"

#include "solver/model/contact_system.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

auto as_vector(std::span<const double> values) {
    return Eigen::Map<const VectorXd>(values.data(), static_cast<Index>(values.size()));
}
auto as_vector(std::span<double> values) {
    return Eigen::Map<VectorXd>(values.data(), static_cast<Index>(values.size()));
}

constexpr double settled = 1e-8; ///< share of the greatest movement that the last correction may have

/// Known from the loads, with something to spare.
double error_of_one_solve(const Model& model) {
    constexpr double spare = 10;
    return spare * model.solve_error;
}

} // namespace

bool is_proved_at_once(const Model& model) {
    return error_of_one_solve(model) < settled && model.shell.held_dof_support.empty();
}

LeastHeldAgainst least_held_against(const Model& model, std::span<const ActingLoad> loads) {
    constexpr double rounding = 1e-8;
    LeastHeldAgainst least{.work = 1e-300, .movement = 1e-300};
    for (const ActingLoad& acting : loads) {
        const auto load = static_cast<size_t>(acting.load);
        if (load >= model.moved.size()) continue;
        const double share = rounding * std::abs(acting.factor);
        least.work +=
            share *
            std::abs(
                as_vector(std::span{model.moved[load]}).dot(as_vector(std::span{model.loads[load].forces})));
        least.movement += share * greatest_movement(model.moved[load]);
    }
    return least;
}

void SumOfAnswers::add(const Model& model, std::span<const ConnectedSituation> connected,
                       std::span<const double> answered) {
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    moved_.resize(n, 0);
    forces_.resize(n, 0);
    times_.resize(model.loads.size(), 0);
    for (size_t s = 0; s < connected.size(); ++s) {
        as_vector(std::span{moved_}) += as_vector(answered.subspan(s * n, n));
        add_connection_forces(model, model.connections, connected[s].answer.force, forces_);
        for (const ActingLoad& acting : connected[s].plan.loads)
            times_[static_cast<size_t>(acting.load)] += acting.factor;
    }
}

double SumOfAnswers::residual(const Model& model) const {
    const auto moved = as_vector(std::span{moved_});
    VectorXd rest(moved.size());
    multiply(model.shell.stiffness, moved_, {rest.data(), moved_.size()});
    rest -= as_vector(std::span{forces_});
    double work = 0;
    std::vector<ActingLoad> acting;
    for (size_t k = 0; k < times_.size(); ++k) {
        if (times_[k] == 0) continue;
        const auto load = as_vector(model.loads[k].forces);
        rest -= times_[k] * load;
        work += times_[k] * moved.dot(load);
        acting.push_back({.load = static_cast<int>(k), .factor = times_[k]});
    }
    return std::abs(moved.dot(rest)) / std::max(std::abs(work), least_held_against(model, acting).work);
}

Refined refine(const Model& model, std::span<const ConnectedSituation> connected, std::span<double> dofs) {
    const std::vector<double> connection_forces = connection_forces_of(model, connected);
    const auto n = static_cast<size_t>(model.factor->n_dofs()), count = connected.size();
    const auto of = [n](auto& all, size_t s) { return as_vector(std::span{all.data() + s * n, n}); };
    Refined refined{.rest = std::vector<double>(n * count),
                    .error = std::vector<double>(count, error_of_one_solve(model))};
    std::vector<double>&rest = refined.rest, &error = refined.error;
    const auto find_rest = [&] {
        multiply(model.shell.stiffness, dofs, rest, static_cast<int>(count));
        for (size_t s = 0; s < count; ++s) {
            of(rest, s) /= connected[s].plan.creep_factor;
            of(rest, s) -= of(connection_forces, s);
            for (const ActingLoad& acting : connected[s].plan.loads)
                of(rest, s) -=
                    acting.factor * as_vector(model.loads[static_cast<size_t>(acting.load)].forces);
        }
    };
    find_rest();
    std::vector<double> least(count); // movement that rounding is held against
    for (size_t s = 0; s < count; ++s)
        least[s] =
            connected[s].plan.creep_factor * least_held_against(model, connected[s].plan.loads).movement;
    constexpr int most_rounds = 5; // thin plates on fine meshes need a round or two
    std::vector<double> last(count, 1e300);
    const auto goes_on = [&](size_t s) { return error[s] >= settled && error[s] <= 0.5 * last[s]; };
    for (int round = 0; round < most_rounds; ++round) {
        bool all_settled = true;
        for (size_t s = 0; s < count; ++s) all_settled = all_settled && !goes_on(s);
        if (all_settled) break;
        std::vector<double> more(rest); // the factor ignores what stands at held dofs
        model.factor->solve(more, static_cast<int>(count));
        for (size_t s = 0; s < count; ++s) {
            const double moves = greatest_movement(dofs.subspan(s * n, n)),
                         creep_factor = connected[s].plan.creep_factor;
            of(dofs, s) -= creep_factor * of(more, s);
            last[s] = round == 0 ? 1 : error[s];
            error[s] = creep_factor * greatest_movement(std::span{more}.subspan(s * n, n)) /
                       std::max(moves, least[s]);
        }
        find_rest();
    }
    return refined;
}

} // namespace hollowtop
