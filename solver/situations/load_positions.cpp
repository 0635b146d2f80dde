// SPDX-License-Identifier: MIT
#include "solver/situations/load_positions.hpp"

#include "solver/situations/active_contacts.hpp"

#include <algorithm>

namespace hollowtop {
namespace {

/// A row a degree of freedom: a load is felt at few of them, by every column.
std::vector<double> influence_of(const Model& model) {
    const SparseColumns& columns = model.columns->forces;
    const auto n = static_cast<size_t>(model.factor->n_dofs()), count = static_cast<size_t>(columns.count());
    std::vector<double> all(n * count, 0);
    for (size_t c = 0; c < count; ++c)
        for (int k = columns.start[c]; k < columns.start[c + 1]; ++k)
            all[c * n + static_cast<size_t>(columns.dof[static_cast<size_t>(k)])] +=
                columns.value[static_cast<size_t>(k)];
    model.factor->solve(all, static_cast<int>(count));
    std::vector<double> rows(n * count);
    constexpr size_t tile = 32;
    for (size_t from = 0; from < n; from += tile)
        for (size_t c = 0; c < count; ++c)
            for (size_t i = from; i < std::min(n, from + tile); ++i) rows[i * count + c] = all[c * n + i];
    return rows;
}

} // namespace

LoadPositionSolver::LoadPositionSolver(const Model& model, AllowablesBasis basis)
    : model_(&model), basis_(basis), n_columns_(static_cast<size_t>(model.columns->forces.count())),
      influence_(influence_of(model)), hull_(convex_hull(resting_places(model))),
      contact_system_(model, model.connections, static_cast<int>(model.connections.all.size()),
                      model.connections.n_bars, 1) {
    if (basis == AllowablesBasis::strength_class)
        design_system_.emplace(model, model.connections, static_cast<int>(model.connections.all.size()),
                               model.connections.n_bars, 1, slip_in_design);
    SituationPlan standing{.name = "standing loads", .stage = Stage::at_once, .loads = {}};
    for (size_t k = 0; k < model.loads.size(); ++k) {
        standing.loads.push_back({.load = static_cast<int>(k), .factor = 1});
        at_columns_.push_back(at_points(model.columns->forces, model.moved[k]));
    }
    standing_ = loads_that_tip(model, standing);
    for (TippingLoad& load : standing_) load.leads = false;
}

std::optional<TippingReserve> LoadPositionSolver::reserve_of(const Resultant& passing, LoadFor judged_for,
                                                             const TippingFormat& format) const {
    std::vector<TippingLoad> loads = standing_;
    loads.push_back({.of = passing, .is_permanent = false, .leads = true});
    const auto tipping = tipping_of(hull_, loads, format);
    if (!tipping) return std::nullopt;
    return TippingReserve{.needed = tipping_format(basis_, judged_for).needed, .reached = tipping->factor};
}

std::optional<TippingReserve> LoadPositionSolver::reserve_of(const Load& placed) const {
    const Resultant passing =
        resultant_of(model_->shell, nodal_forces(model_->shell, load_points(model_->shell, placed, "loads")));
    return reserve_of(passing, placed.judged_for, tipping_format(basis_, placed.judged_for));
}

std::vector<LoadPositionAnswer> LoadPositionSolver::solve(std::span<const Load> placed,
                                                          const PositionFactors& factors) const {
    const Model& model = *model_;
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    const bool is_design = factors.slip != 1;
    const ContactSystem& contact_system = is_design ? *design_system_ : contact_system_;
    std::vector<ActingLoad> standing;
    std::vector<double> standing_forces(n, 0),
        standing_at_columns(static_cast<size_t>(model.columns->forces.count()), 0);
    for (size_t k = 0; k < model.loads.size(); ++k) {
        const double factor =
            model.loads[k].duration == Duration::permanent ? factors.permanent : factors.lasting;
        standing.push_back({.load = static_cast<int>(k), .factor = factor});
        for (size_t i = 0; i < n; ++i) standing_forces[i] += factor * model.loads[k].forces[i];
        for (size_t c = 0; c < standing_at_columns.size(); ++c)
            standing_at_columns[c] += factor * at_columns_[k][c];
    }
    const double weight = own_weight_in(model, standing);
    const Resultant standing_resultant = resultant_of_loads(model, standing);
    const std::vector<Point> pressing = active_hull(model);
    std::vector<LoadPositionAnswer> answers(placed.size());
    std::vector<ContactState> connections;
    std::vector<size_t> held; // places that are answered
    std::vector<double> columns;
    std::vector<char> guess;
    for (size_t p = 0; p < placed.size(); ++p) {
        std::vector<double> forces = nodal_forces(model.shell, load_points(model.shell, placed[p], "loads"));
        const Resultant passing = resultant_of(model.shell, forces);
        const bool drops = placed[p].judged_for == LoadFor::everyday &&
                           !is_design; // a load of every day that tips the top fails by that
        std::optional<double> tipping_factor;
        if (is_loose() && !is_design) {
            answers[p].tipping =
                reserve_of(passing, placed[p].judged_for, tipping_format(basis_, placed[p].judged_for));
            if (const auto plain = reserve_of(passing, placed[p].judged_for, as_it_is)) {
                tipping_factor = plain->reached;
                if (plain->reached <= 1) answers[p].tips_at = plain->reached;
            }
            if (answers[p].tips_at && drops) continue;
        }
        std::vector<size_t> loaded;
        for (size_t i = 0; i < n; ++i)
            if (forces[i] != 0) loaded.push_back(i);
        std::vector<double> moved(n_columns_, 0); // along each column, under the load
        for (const size_t i : loaded)
            for (size_t c = 0; c < n_columns_; ++c) moved[c] += influence_[i * n_columns_ + c] * forces[i];
        std::vector<double> all;
        const auto set_down = [&](double share) {
            std::vector<double> at_columns = standing_at_columns;
            for (size_t c = 0; c < at_columns.size(); ++c)
                at_columns[c] += share * factors.passing * moved[c];
            all = standing_forces;
            for (const size_t i : loaded) all[i] += share * factors.passing * forces[i];
            return contact_system.solve_from(at_columns, all, weight, guess);
        };
        double share = 1;
        if (is_loose())
            share = share_that_stands(pressing, standing_resultant,
                                      {factors.passing * passing.force, factors.passing * passing.x_moment,
                                       factors.passing * passing.y_moment})
                        .value_or(1);
        ContactState connected = set_down(share);
        if (!connected.answer.balanced) {
            constexpr int halvings = 10;
            double stands = 0, tips = 1;
            for (int k = 0; k < halvings; ++k) {
                const double half = (stands + tips) / 2;
                (set_down(half).answer.balanced ? stands : tips) = half;
            }
            if (!is_loose() && !is_design) answers[p].tips_at = stands;
            if (drops && !is_loose()) continue;
            share = 0.999 * stands;
            connected = set_down(share);
            if (!connected.answer.balanced) continue;
        }
        guess = connected.answer.presses;
        SolvedSituation s;
        s.plan = {.name = placed[p].name,
                  .duration = placed[p].duration,
                  .stage = Stage::passing,
                  .loads = standing,
                  .passing = -1,
                  .creep_factor = 1,
                  .slip = factors.slip,
                  .judged_for = placed[p].judged_for,
                  .format = basis_,
                  .design_of = is_design ? 0 : -1};
        const double acts = share * factors.passing;
        s.applied = {standing_resultant.force + acts * passing.force,
                     standing_resultant.x_moment + acts * passing.x_moment,
                     standing_resultant.y_moment + acts * passing.y_moment};
        s.tipping_factor = tipping_factor;
        s.tipping = answers[p].tipping;
        answers[p].solved = std::move(s);
        const size_t first = columns.size();
        columns.resize(first + n);
        for (size_t i = 0; i < n; ++i) columns[first + i] = all[i] + connected.forces[i];
        held.push_back(p);
        connections.push_back(std::move(connected));
    }
    if (held.empty()) return answers;
    model.factor->solve(columns, static_cast<int>(held.size()));
    for (size_t h = 0; h < held.size(); ++h) {
        SolvedSituation& s = *answers[held[h]].solved;
        const ContactAnswer& answer = connections[h].answer;
        s.dofs.assign(columns.begin() + static_cast<std::ptrdiff_t>(h * n),
                      columns.begin() + static_cast<std::ptrdiff_t>((h + 1) * n));
        for (size_t k = 0; k < model.rigid.size(); ++k)
            for (size_t i = 0; i < n; ++i) s.dofs[i] += answer.rigid_motion[k] * model.rigid[k][i];
        to_reference_surface(model.shell, s.dofs);
        const auto n_points = static_cast<std::ptrdiff_t>(model.points.size());
        s.point_force.assign(answer.force.begin(), answer.force.begin() + n_points);
        s.point_presses.assign(answer.presses.begin(), answer.presses.begin() + n_points);
        s.connection_force = answer.force;
        s.connection_gap = answer.gap;
        s.connection_presses = answer.presses;
        s.support_force.assign(model.supports.centres.size(), 0);
        for (int i = 0; i < model.n_bare; ++i) {
            const Connection& connection = model.connections.all[static_cast<size_t>(i)];
            if (connection.support >= 0)
                s.support_force[static_cast<size_t>(connection.support)] +=
                    s.connection_force[static_cast<size_t>(i)];
        }
    }
    return answers;
}

} // namespace hollowtop
