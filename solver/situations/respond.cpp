// SPDX-License-Identifier: MIT
#include "solver/situations/respond.hpp"

#include "materials/assert.hpp"
#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "solver/model/contact_system.hpp"
#include "solver/section/top_material.hpp"
#include "solver/situations/active_contacts.hpp"
#include "solver/situations/tipping.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>

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

std::vector<double> sum_of(const std::vector<std::vector<double>>& columns,
                           const std::vector<ActingLoad>& which, size_t n) {
    std::vector<double> total(n, 0);
    for (const ActingLoad& acting : which)
        for (size_t i = 0; i < n; ++i)
            total[i] += acting.factor * columns[static_cast<size_t>(acting.load)][i];
    return total;
}

[[noreturn]] void refuse_tipping(const Model& model, const SituationPlan& plan) {
    const std::vector<Point> places = resting_places(model);
    if (places.empty() && model.supports.held.empty())
        throw Error(ErrorKind::not_computable, {.place = "supports",
                                                .what = "nothing holds the top",
                                                .remedy = "add pads, bearers or held lines"});
    std::string what = "under \"" + plan.name + "\" the top is not held by its supports";
    const std::optional<Tipping> tipping =
        tipping_of(convex_hull(places), loads_that_tip(model, plan), as_it_is);
    if (model.supports.held.empty() && tipping.has_value()) {
        using materials::digits;
        what = "under \"" + plan.name + "\" the top tips about the line from x " +
               digits(tipping->from.x, 4) + " mm, y " + digits(tipping->from.y, 4) + " mm to x " +
               digits(tipping->to.x, 4) + " mm, y " + digits(tipping->to.y, 4) + " mm";
    }
    throw Error(ErrorKind::not_computable,
                {.place = "supports",
                 .what = what,
                 .remedy = "move the supports outwards, hold the top down, or lessen the load"});
}

ContactAnswer answer_to(const Model& model, const ContactSystem& contact_system,
                        const std::vector<ActingLoad>& loads, std::span<const char> guess) {
    return contact_system.answer_to(
        sum_of(model.columns->moved_at, loads, static_cast<size_t>(model.columns->forces.count())),
        sum_of(model.work_on_rigid, loads, model.rigid.size()), own_weight_in(model, loads), guess);
}

/// The greatest share of what passes that the supports balance, less a thousandth: no load can press harder
/// than what tips the top.
ContactAnswer set_down_at_what_tips(const Model& model, const ContactSystem& contact_system,
                                    SituationPlan& plan, std::span<const char> guess) {
    constexpr int halvings = 13;
    constexpr double a_little_less = 0.999, too_little = 1e-3;
    const auto with_share = [&](double share) {
        std::vector<ActingLoad> loads = plan.loads;
        for (ActingLoad& acting : loads)
            if (leads(model, plan, acting.load)) acting.factor *= share;
        return loads;
    };
    const bool something_stays =
        std::any_of(plan.loads.begin(), plan.loads.end(),
                    [&](const ActingLoad& acting) { return !leads(model, plan, acting.load); });
    const bool may_be_less = plan.stage == Stage::passing || plan.design_of >= 0;
    if (!may_be_less || !something_stays) refuse_tipping(model, plan);
    ContactAnswer answer;
    const auto try_share = [&](double share) {
        if (share < too_little) return;
        answer = answer_to(model, contact_system, with_share(share), guess);
        plan.set_down = share;
    };
    if (model.supports.all_one_sided) {
        std::vector<ActingLoad> stays, passes;
        for (const ActingLoad& acting : plan.loads)
            (leads(model, plan, acting.load) ? passes : stays).push_back(acting);
        if (const auto share = share_that_stands(active_hull(model), resultant_of_loads(model, stays),
                                                 resultant_of_loads(model, passes)))
            try_share(*share);
    }
    if (!answer.balanced) {
        double stands = 0, tips = 1;
        for (int k = 0; k < halvings; ++k) {
            const double half = (stands + tips) / 2;
            (answer_to(model, contact_system, with_share(half), guess).balanced ? stands : tips) = half;
        }
        try_share(a_little_less * stands);
    }
    if (!answer.balanced) refuse_tipping(model, plan);
    plan.loads = with_share(plan.set_down);
    return answer;
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
        const Connection& connection = model.connections.connections[static_cast<size_t>(i)];
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
        const Cell& cell = model.shell.mesh.cells[static_cast<size_t>(point.cell)];
        basis_at(cell, model.shell.order, point.at.x, point.at.y, basis);
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

constexpr double settled = 1e-8; ///< share of the greatest movement that the last correction may have

/// Known from the loads, with something to spare.
double error_of_one_solve(const Model& model) {
    constexpr double spare = 10;
    return spare * model.solve_error;
}

} // namespace

std::vector<std::vector<char>> pressing_of(std::span<const ConnectedSituation> connected) {
    std::vector<std::vector<char>> pressing;
    for (const ConnectedSituation& s : connected) pressing.push_back(s.answer.presses);
    return pressing;
}

std::vector<ConnectedSituation> connection_situations(const Model& model, std::vector<SituationPlan> plans,
                                                      std::span<const std::vector<char>> guessed) {
    std::vector<ConnectedSituation> connected;
    std::vector<ContactSystem> contact_systems; // one a creep factor and slip
    std::vector<char> guess; // what pressed before presses again, mostly; at first the supports alone
    for (const Connection& connection : model.connections.connections)
        guess.push_back(connection.beam < 0 && connection.clearance <= 0);
    for (SituationPlan& plan : plans) {
        auto contact_system =
            std::find_if(contact_systems.begin(), contact_systems.end(), [&](const ContactSystem& t) {
                return t.creep_factor() == plan.creep_factor && t.slip() == plan.slip;
            });
        if (contact_system == contact_systems.end())
            contact_system = contact_systems.emplace(contact_systems.end(), model, model.connections,
                                                     static_cast<int>(model.connections.connections.size()),
                                                     model.connections.n_bars, plan.creep_factor, plan.slip);
        // knife edges have points on nodes: on another mesh there may be more of them
        if (connected.size() < guessed.size() &&
            guessed[connected.size()].size() == model.connections.connections.size())
            guess = guessed[connected.size()];
        ContactAnswer answer = answer_to(model, *contact_system, plan.loads, guess);
        if (!answer.balanced) answer = set_down_at_what_tips(model, *contact_system, plan, guess);
        guess = answer.presses;
        connected.push_back({.plan = std::move(plan), .answer = std::move(answer)});
    }
    return connected;
}

std::vector<ConnectedSituation> connection_situations(const Piece& piece, const Model& model,
                                                      std::span<const std::vector<char>> guessed) {
    return connection_situations(model, plan_situations(piece, model), guessed);
}

void append_connection_forces(const Model& model, std::span<const ConnectedSituation> connected,
                              std::vector<double>& columns) {
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    for (const ConnectedSituation& s : connected) {
        columns.resize(columns.size() + n, 0);
        add_connection_forces(model, model.connections, s.answer.force, std::span{columns}.last(n));
    }
}

std::vector<double> connection_forces_of(const Model& model, std::span<const ConnectedSituation> connected) {
    std::vector<double> columns;
    columns.reserve(static_cast<size_t>(model.factor->n_dofs()) * connected.size());
    append_connection_forces(model, connected, columns);
    return columns;
}

void add_moved_by_loads(const Model& model, std::span<const ConnectedSituation> connected,
                        std::span<double> answered) {
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    for (size_t s = 0; s < connected.size(); ++s)
        for (const ActingLoad& acting : connected[s].plan.loads)
            field(answered.subspan(s * n, n)) +=
                acting.factor * field(model.moved[static_cast<size_t>(acting.load)]);
}

bool is_proved_at_once(const Model& model) {
    return error_of_one_solve(model) < settled && model.shell.held_dof_support.empty();
}

void SumOfAnswers::add(const Model& model, std::span<const ConnectedSituation> connected,
                       std::span<const double> answered) {
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    moved_.resize(n, 0);
    forces_.resize(n, 0);
    times_.resize(model.loads.size(), 0);
    for (size_t s = 0; s < connected.size(); ++s) {
        field(std::span{moved_}) += field(answered.subspan(s * n, n));
        add_connection_forces(model, model.connections, connected[s].answer.force, forces_);
        for (const ActingLoad& acting : connected[s].plan.loads)
            times_[static_cast<size_t>(acting.load)] += acting.factor;
    }
}

double SumOfAnswers::residual(const Model& model) const {
    const auto moved = field(std::span{moved_});
    VectorXd rest(moved.size());
    multiply(model.shell.stiffness, moved_, {rest.data(), moved_.size()});
    rest -= field(std::span{forces_});
    double work = 0;
    for (size_t k = 0; k < times_.size(); ++k) {
        if (times_[k] == 0) continue;
        const auto load = field(model.loads[k].forces);
        rest -= times_[k] * load;
        work += times_[k] * moved.dot(load);
    }
    return std::abs(moved.dot(rest)) / std::max(std::abs(work), 1e-300);
}

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

namespace {

/// Iterative refinement against the stiffness itself, where one solve is not enough or reactions are asked
/// for.
struct Refined {
    std::vector<double>
        rest; ///< what forces the movements do not answer; reactions at held dofs; a column a situation
    std::vector<double> error; ///< of each situation's movements, as a share of the greatest
};

/// `dofs` are the movements on the reduced moduli, and come back refined.
Refined refine(const Model& model, std::span<const ConnectedSituation> connected, std::span<double> dofs) {
    const std::vector<double> connection_forces = connection_forces_of(model, connected);
    const auto n = static_cast<size_t>(model.factor->n_dofs()), count = connected.size();
    const auto of = [n](auto& all, size_t s) { return field(std::span{all.data() + s * n, n}); };
    Refined refined{.rest = std::vector<double>(n * count),
                    .error = std::vector<double>(count, error_of_one_solve(model))};
    std::vector<double>&rest = refined.rest, &error = refined.error;
    const auto find_rest = [&] {
        multiply(model.shell.stiffness, dofs, rest, static_cast<int>(count));
        for (size_t s = 0; s < count; ++s) {
            of(rest, s) /= connected[s].plan.creep_factor;
            of(rest, s) -= of(connection_forces, s);
            for (const ActingLoad& acting : connected[s].plan.loads)
                of(rest, s) -= acting.factor * field(model.loads[static_cast<size_t>(acting.load)].forces);
        }
    };
    find_rest();
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
            error[s] =
                creep_factor * greatest_movement(std::span{more}.subspan(s * n, n)) / std::max(moves, 1e-300);
        }
        find_rest();
    }
    return refined;
}

} // namespace

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
            residual = std::abs(unanswered) / std::max(std::abs(work), 1e-300);
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
    std::vector<ConnectedSituation> connected = connection_situations(piece, model);
    std::vector<double> answered = connection_forces_of(model, connected);
    model.factor->solve(answered, static_cast<int>(connected.size()));
    add_moved_by_loads(model, connected, answered);
    return finish_situations(model, std::move(connected), answered);
}

} // namespace hollowtop
