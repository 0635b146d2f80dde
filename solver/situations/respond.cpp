// SPDX-License-Identifier: MIT
#include "solver/situations/respond.hpp"

#include "materials/assert.hpp"
#include "materials/error.hpp"
#include "solver/situations/proof_of_solve.hpp"
#include "solver/situations/tipping.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <utility>

namespace hollowtop {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

auto field(std::span<const double> values) {
    return Eigen::Map<const VectorXd>(values.data(), static_cast<Index>(values.size()));
}
auto field(std::span<double> values) {
    return Eigen::Map<VectorXd>(values.data(), static_cast<Index>(values.size()));
}

/// Support forces, and how far they are from balancing the loads.
void balance(const Model& model, const std::vector<double>& levelled_dofs, std::span<const double> reaction,
             SolvedSituation& s) {
    s.support_force.assign(model.supports.centres.size(), 0);
    double force = 0, x_moment = 0, y_moment = 0;
    const auto add = [&](int support, Point at, double f) {
        s.support_force[static_cast<size_t>(support)] += f;
        force += f;
        x_moment += f * at.x;
        y_moment += f * at.y;
    };
    for (int i = 0; i < model.n_bare; ++i) {
        const Connection& connection = model.connections.all[static_cast<size_t>(i)];
        const double f = s.connection_force[static_cast<size_t>(i)];
        if (connection.support >= 0) add(connection.support, connection.at, f);
        if (connection.kind != ConnectionKind::rail_end) continue;
        const Point along = model.bars.beams[static_cast<size_t>(connection.beam)]
                                .along; // a rail's legs hold it against rolling
        const double torque = connection.on_beam.front().f[2] == 0 ? f * connection.on_beam.front().f[3] : 0;
        x_moment -= torque * along.y;
        y_moment += torque * along.x;
    }
    for (const auto& [dof, support] : model.shell.held_dof_support) {
        if (dof % dofs_per_node == 2)
            add(support, model.shell.node_point(dof / dofs_per_node), reaction[static_cast<size_t>(dof)]);
        // a rigid turn w = x goes with bx = -1 and, at height z, with u = -z: held turns and held movements
        // along the top count
        if (dof % dofs_per_node == 2) continue;
        const auto level = model.shell.levels.find(dof / dofs_per_node);
        const NodeLevel z = level == model.shell.levels.end() ? NodeLevel{} : level->second;
        const double r = reaction[static_cast<size_t>(dof)];
        switch (dof % dofs_per_node) {
        case 0:
            x_moment -= z.zu * r;
            break;
        case 1:
            y_moment -= z.zv * r;
            break;
        case 3:
            x_moment -= r;
            break;
        default:
            y_moment -= r;
        }
    }
    BasisAt basis;
    for (const HeldPoint& point : model.shell.held_points) {
        basis_at(model.shell, point.cell, point.at, basis);
        const std::vector<int> dofs = cell_dofs(model.shell, point.cell);
        double moved = 0;
        for (size_t k = 0; k < dofs.size(); ++k)
            moved += basis.value[k / dofs_per_node] * point.row[k % dofs_per_node] *
                     levelled_dofs[static_cast<size_t>(dofs[k])];
        const double f = -point.stiffness * moved /
                         s.plan.creep_factor; // these springs stand in the stiffness that reduces
        add(point.support, point.at, f * point.row[2]);
        x_moment -= f * point.row[3];
        y_moment -= f * point.row[4];
    }
    const double size = std::max(model.shell.mesh.xs.back() - model.shell.mesh.xs.front(),
                                 model.shell.mesh.ys.back() - model.shell.mesh.ys.front());
    const double load = std::max(std::abs(s.applied.force), 1e-300);
    s.equilibrium_error =
        std::max({std::abs(force - s.applied.force), std::abs(x_moment - s.applied.x_moment) / size,
                  std::abs(y_moment - s.applied.y_moment) / size}) /
        load;
}

void find_tipping(const Model& model, SolvedSituation& s) {
    const SituationPlan& plan = s.plan;
    if (plan.design_of >= 0 || plan.stage == Stage::years) return;
    const TippingFormat format = tipping_format(plan.format, plan.judged_for);
    if (!model.supports.all_one_sided) { // what holds it in part may let it turn all the same
        if (plan.set_down < 1 && plan.counts_for_tipping)
            s.tipping = TippingReserve{.needed = format.needed, .reached = plan.set_down};
        return;
    }
    const std::vector<Point> hull = convex_hull(resting_places(model));
    std::vector<TippingLoad> loads = loads_that_tip(model, plan);
    if (plan.stage != Stage::passing) {
        if (const auto tipping = standing_tipping_of(hull, loads, format))
            s.tipping =
                TippingReserve{.needed = format.standing_needed, .reached = tipping->factor, .stands = true};
        return;
    }
    if (const auto tipping = tipping_of(hull, loads, as_it_is)) s.tipping_factor = tipping->factor;
    if (!s.tipping_factor) return;
    if (const auto tipping = tipping_of(hull, loads, format); tipping && plan.counts_for_tipping)
        s.tipping = TippingReserve{.needed = format.needed, .reached = tipping->factor};
    if (own_weight_in(model, plan.loads) == 0) return;
    loads.push_back({.of = model.hollowed, .is_permanent = true});
    if (const auto tipping = tipping_of(hull, loads, as_it_is)) s.tipping_factor_solid = tipping->factor;
}

} // namespace

SolvedSituation unsolved(const Model& model, ConnectedSituation connected) {
    SolvedSituation situation;
    situation.plan = std::move(connected.plan);
    ContactAnswer& answer = connected.answer;
    const auto n_points = static_cast<std::ptrdiff_t>(model.points.size());
    situation.point_force.assign(answer.force.begin(), answer.force.begin() + n_points);
    situation.point_presses.assign(answer.presses.begin(), answer.presses.begin() + n_points);
    situation.connection_force = std::move(answer.force);
    situation.connection_gap = std::move(answer.gap);
    situation.connection_presses = std::move(answer.presses);
    return situation;
}

std::vector<SolvedSituation> finish_situations(const Model& model, std::vector<ConnectedSituation> connected,
                                               std::span<double> answered,
                                               std::optional<double> residual_of_many) {
    const auto n = static_cast<size_t>(model.factor->n_dofs()), count = connected.size();
    HOLLOWTOP_ASSERT(answered.size() == n * count);
    const bool at_once = is_proved_at_once(model);
    double residual_at_once = 0;
    if (at_once) {
        SumOfAnswers alone;
        if (!residual_of_many) alone.add(model, connected, answered);
        residual_at_once = residual_of_many ? *residual_of_many : alone.residual(model);
    }
    const std::span<double> dofs = answered;
    for (size_t s = 0; s < count; ++s) field(dofs.subspan(s * n, n)) *= connected[s].plan.creep_factor;
    Refined refined;
    if (!at_once) refined = refine(model, connected, dofs);
    std::vector<SolvedSituation> solved;
    solved.reserve(count);
    for (size_t s = 0; s < count; ++s) {
        const std::span<const double> moved = dofs.subspan(s * n, n);
        std::span<const double> left{}; // reactions, where there are any
        double residual = residual_at_once;
        if (!at_once) {
            left = std::span{refined.rest}.subspan(s * n, n);
            double unanswered = field(moved).dot(field(left)), work = 0;
            for (const auto& [dof, support] : model.shell.held_dof_support)
                unanswered -= moved[static_cast<size_t>(dof)] * left[static_cast<size_t>(dof)];
            for (const ActingLoad& acting : connected[s].plan.loads)
                work += acting.factor *
                        field(moved).dot(field(model.loads[static_cast<size_t>(acting.load)].forces));
            const LeastHeldAgainst least = least_held_against(model, connected[s].plan.loads);
            residual = std::abs(unanswered) / std::max(std::abs(work), least.work);
        }
        if (!(residual < 1e-5) || (!at_once && !(refined.error[s] <= 1e-5)))
            throw Error(ErrorKind::not_computable, {.place = "",
                                                    .what = "the equations of \"" + connected[s].plan.name +
                                                            "\" could not be solved to enough digits",
                                                    .remedy = "try another --mesh"});
        const std::vector<double> rigid_motion = connected[s].answer.rigid_motion;
        SolvedSituation& situation = solved.emplace_back(unsolved(model, std::move(connected[s])));
        situation.dofs.assign(moved.begin(), moved.end());
        // rigid motions strain nothing; added last, they cost the residual no digits
        constexpr size_t together = 1024; // what is added to stays near
        for (size_t first = 0; first < n; first += together) {
            const size_t some = std::min(together, n - first);
            for (size_t k = 0; k < model.rigid.size(); ++k)
                field(std::span{situation.dofs}.subspan(first, some)) +=
                    rigid_motion[k] * field(std::span{model.rigid[k]}.subspan(first, some));
        }
        situation.residual = residual;
        situation.applied = resultant_of_loads(model, situation.plan.loads);
        balance(model, situation.dofs, left, situation);
        to_reference_surface(model.shell, situation.dofs);
        find_tipping(model, situation);
    }
    return solved;
}

std::vector<SolvedSituation> solve_situations(const Piece& piece, const Model& model) {
    return solve_connected(model, connect_situations(piece, model));
}

std::vector<SolvedSituation> solve_connected(const Model& model, std::vector<ConnectedSituation> connected) {
    std::vector<double> answered = connection_forces_of(model, connected);
    model.factor->solve(answered, static_cast<int>(connected.size()));
    add_moved_by_loads(model, connected, answered);
    return finish_situations(model, std::move(connected), answered);
}

} // namespace hollowtop
