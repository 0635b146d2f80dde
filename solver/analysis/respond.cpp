// SPDX-License-Identifier: MIT
#include "solver/analysis/respond.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "solver/analysis/tipping.hpp"
#include "solver/analysis/tying.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

std::vector<double> sum_of(const std::vector<std::vector<double>>& columns, const std::vector<int>& which, size_t n) {
    std::vector<double> total(n, 0);
    for (const int k : which)
        for (size_t i = 0; i < n; ++i) total[i] += columns[static_cast<size_t>(k)][i];
    return total;
}

double dot(const std::vector<double>& a, const std::vector<double>& b) {
    double sum = 0;
    for (size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
    return sum;
}

bool with_own_weight(const Model& model, const std::vector<int>& loads) {
    return std::any_of(loads.begin(), loads.end(), [&](int k) { return model.loads[static_cast<size_t>(k)].is_own_weight; });
}

[[noreturn]] void refuse_tipping(const Model& model, const SituationPlan& plan, const Resultant& standing, const Resultant& passing) {
    const std::vector<Point> places = resting_places(model);
    if (places.empty() && model.supports.held.empty())
        throw Error(ErrorKind::not_computable, {.place = "supports", .what = "nothing holds the top", .remedy = "add pads, bearers or held lines"});
    std::string what = "under \"" + plan.name + "\" the top is not held by its supports";
    const std::optional<Tipping> tipping = tipping_of(convex_hull(places), standing, passing);
    if (model.supports.held.empty() && tipping.has_value()) {
        using materials::digits;
        what = "under \"" + plan.name + "\" the top tips about the line from x " + digits(tipping->from.x, 4) + " mm, y " +
               digits(tipping->from.y, 4) + " mm to x " + digits(tipping->to.x, 4) + " mm, y " + digits(tipping->to.y, 4) + " mm";
        if (plan.passing >= 0 && tipping->factor > 0)
            what += ", at " + digits(100 * tipping->factor) + " % of that load";
    }
    throw Error(ErrorKind::not_computable,
                {.place = "supports", .what = what, .remedy = "move the supports outwards, hold the top down, or lessen the load"});
}

/// Support forces, and how far they are from balancing the loads.
void balance(const Model& model, const std::vector<double>& levelled_dofs, const std::vector<double>& reaction, SolvedSituation& s) {
    s.support_force.assign(model.supports.centres.size(), 0);
    double force = 0, x_moment = 0, y_moment = 0;
    const auto add = [&](int support, Point at, double f) {
        s.support_force[static_cast<size_t>(support)] += f;
        force += f;
        x_moment += f * at.x;
        y_moment += f * at.y;
    };
    for (int i = 0; i < model.n_bare; ++i) {
        const Tie& tie = model.ties.ties[static_cast<size_t>(i)];
        const double f = s.tie_force[static_cast<size_t>(i)];
        if (tie.support >= 0) add(tie.support, tie.at, f);
        if (tie.kind != TieKind::rail_end) continue;
        const Point along = model.bars.beams[static_cast<size_t>(tie.beam)].along; // a rail's legs hold it against rolling
        const double torque = tie.on_beam.front().f[2] == 0 ? f * tie.on_beam.front().f[3] : 0;
        x_moment -= torque * along.y;
        y_moment += torque * along.x;
    }
    for (const auto& [dof, support] : model.shell.held_dof_support) {
        if (dof % dofs_per_node == 2) add(support, model.shell.node_point(dof / dofs_per_node), reaction[static_cast<size_t>(dof)]);
        // a rigid turn w = x goes with bx = -1 and, at height z, with u = -z: held turns and held movements along the top count
        if (dof % dofs_per_node == 2) continue;
        const auto level = model.shell.levels.find(dof / dofs_per_node);
        const NodeLevel z = level == model.shell.levels.end() ? NodeLevel{} : level->second;
        const double r = reaction[static_cast<size_t>(dof)];
        switch (dof % dofs_per_node) {
        case 0: x_moment -= z.zu * r; break;
        case 1: y_moment -= z.zv * r; break;
        case 3: x_moment -= r; break;
        default: y_moment -= r;
        }
    }
    BasisAt basis;
    for (const HeldPoint& point : model.shell.held_points) {
        const Cell& cell = model.shell.mesh.cells[static_cast<size_t>(point.cell)];
        basis_at(cell, model.shell.order, point.at.x, point.at.y, basis);
        const std::vector<int> dofs = cell_dofs(model.shell, point.cell);
        double moved = 0;
        for (size_t k = 0; k < dofs.size(); ++k)
            moved += basis.value[k / dofs_per_node] * point.row[k % dofs_per_node] * levelled_dofs[static_cast<size_t>(dofs[k])];
        const double f = -point.stiffness * moved / s.plan.softening; // these springs stand in the stiffness that softens
        add(point.support, point.at, f * point.row[2]);
        x_moment -= f * point.row[3];
        y_moment -= f * point.row[4];
    }
    const double size = std::max(model.shell.mesh.xs.back() - model.shell.mesh.xs.front(), model.shell.mesh.ys.back() - model.shell.mesh.ys.front());
    const double load = std::max(std::abs(s.applied.force), 1e-300);
    s.equilibrium_error = std::max({std::abs(force - s.applied.force), std::abs(x_moment - s.applied.x_moment) / size,
                                    std::abs(y_moment - s.applied.y_moment) / size}) / load;
}

} // namespace

std::vector<Point> resting_places(const Model& model) {
    std::vector<Point> places;
    for (const ContactPoint& point : model.points) places.push_back(point.at);
    for (int r = 0; r < model.bars.n_rails; ++r) {
        const Beam& rail = model.bars.beams[static_cast<size_t>(r)];
        places.push_back(rail.at(-rail.length / 2));
        places.push_back(rail.at(rail.length / 2));
    }
    return places;
}

Resultant resultant_of_loads(const Model& model, const std::vector<int>& loads, const std::vector<double>& forces) {
    Resultant total = resultant_of(model.shell, forces);
    if (!with_own_weight(model, loads)) return total;
    const Resultant bars = weight_of_bars(model);
    return {total.force + bars.force, total.x_moment + bars.x_moment, total.y_moment + bars.y_moment};
}

std::vector<SituationPlan> plan_situations(const Piece& piece, const Model& model) {
    std::vector<SituationPlan> plans;
    std::vector<int> standing, passing;
    Duration longest = Duration::permanent;
    for (size_t k = 0; k < model.loads.size(); ++k) {
        (stays(model.loads[k].duration) ? standing : passing).push_back(static_cast<int>(k));
        if (model.loads[k].duration == Duration::long_term) longest = Duration::long_term;
    }
    const double k_def = materials::k_def(piece.allowables.service_class).value;
    if (model.loads.size() == 1 && passing.size() == 1) {
        plans.push_back({.name = model.loads[0].name, .duration = model.loads[0].duration, .stage = Stage::passing, .loads = passing, .passing = 0, .softening = 1});
        return plans;
    }
    if (!standing.empty()) {
        plans.push_back({.name = "standing loads", .duration = longest, .stage = Stage::at_once, .loads = standing, .passing = -1, .softening = 1});
        plans.push_back({.name = "standing loads after the years", .duration = longest, .stage = Stage::years, .loads = standing, .passing = -1, .softening = 1 + k_def});
    }
    for (const int load : passing) {
        SituationPlan plan{.name = model.loads[static_cast<size_t>(load)].name,
                           .duration = model.loads[static_cast<size_t>(load)].duration,
                           .stage = Stage::passing,
                           .loads = standing,
                           .passing = load,
                           .softening = 1};
        plan.loads.push_back(load);
        plans.push_back(std::move(plan));
    }
    return plans;
}

std::vector<SolvedSituation> solve_situations(const Piece& piece, const Model& model) {
    const std::vector<SituationPlan> plans = plan_situations(piece, model);
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    std::vector<std::vector<double>> load_columns;
    for (const LoadColumn& load : model.loads) load_columns.push_back(load.forces);
    std::vector<std::vector<double>> loads, moved;
    std::vector<Tied> interfaces;
    std::vector<double> columns;
    std::vector<Tying> tyings; // one a softening
    std::vector<char> guess;   // what pressed before presses again, mostly
    for (const SituationPlan& plan : plans) {
        auto tying = std::find_if(tyings.begin(), tyings.end(), [&](const Tying& t) { return t.softening() == plan.softening; });
        if (tying == tyings.end())
            tying = tyings.emplace(tyings.end(), model, model.ties, static_cast<int>(model.ties.ties.size()), model.ties.n_bars, plan.softening);
        loads.push_back(sum_of(load_columns, plan.loads, n));
        moved.push_back(sum_of(model.moved, plan.loads, n));
        interfaces.push_back(tying->solve({.forces = loads.back(), .moved = moved.back(), .with_weight = with_own_weight(model, plan.loads)}, guess));
        if (!interfaces.back().answer.balanced) {
            std::vector<int> standing = plan.loads;
            std::erase(standing, plan.passing);
            const Resultant passing = plan.passing < 0 ? Resultant{} : resultant_of(model.shell, load_columns[static_cast<size_t>(plan.passing)]);
            refuse_tipping(model, plan, resultant_of_loads(model, standing, sum_of(load_columns, standing, n)), passing);
        }
        guess = interfaces.back().answer.presses;
        columns.insert(columns.end(), interfaces.back().forces.begin(), interfaces.back().forces.end());
    }
    model.factor->solve(columns, static_cast<int>(plans.size()));

    std::vector<SolvedSituation> solved(plans.size());
    std::vector<std::vector<double>> reactions(plans.size(), std::vector<double>(n, 0));
    const auto unbalanced = [&](size_t s) { // forces that the movements do not answer; reactions at held dofs
        std::vector<double>& r = reactions[s];
        multiply(model.shell.stiffness, solved[s].dofs, r);
        for (size_t i = 0; i < n; ++i) r[i] = r[i] / plans[s].softening - loads[s][i] - interfaces[s].forces[i];
        std::vector<double> rest = r;
        for (const auto& [dof, support] : model.shell.held_dof_support) rest[static_cast<size_t>(dof)] = 0;
        return rest;
    };
    for (size_t s = 0; s < plans.size(); ++s) {
        solved[s].plan = plans[s];
        solved[s].dofs.assign(n, 0);
        for (size_t i = 0; i < n; ++i) solved[s].dofs[i] = plans[s].softening * (moved[s][i] + columns[s * n + i]);
    }
    // iterative refinement against the stiffness itself; thin plates on fine meshes need a round or two
    std::vector<double> correction(plans.size(), 1), last(plans.size(), 1);
    constexpr int most_rounds = 5;
    for (int round = 0; round < most_rounds; ++round) {
        for (size_t s = 0; s < plans.size(); ++s) {
            const std::vector<double> rest = unbalanced(s);
            for (size_t i = 0; i < n; ++i) columns[s * n + i] = -rest[i];
        }
        model.factor->solve(columns, static_cast<int>(plans.size()));
        bool settled = true;
        for (size_t s = 0; s < plans.size(); ++s) {
            double moves = 0, corrected = 0;
            for (size_t i = 2; i < n; i += dofs_per_node) {
                moves = std::max(moves, std::abs(solved[s].dofs[i]));
                corrected = std::max(corrected, std::abs(plans[s].softening * columns[s * n + i]));
            }
            for (size_t i = 0; i < n; ++i) solved[s].dofs[i] += plans[s].softening * columns[s * n + i];
            last[s] = correction[s];
            correction[s] = corrected / std::max(moves, 1e-300);
            settled = settled && (correction[s] < 1e-8 || correction[s] > 0.5 * last[s]);
        }
        if (settled) break;
    }
    for (size_t s = 0; s < plans.size(); ++s) {
        SolvedSituation& situation = solved[s];
        situation.residual = std::abs(dot(situation.dofs, unbalanced(s))) / std::max(std::abs(dot(situation.dofs, loads[s])), 1e-300);
        if (!(situation.residual < 1e-5) || !(correction[s] <= 1e-5))
            throw Error(ErrorKind::not_computable, {.place = "", .what = "the equations of \"" + plans[s].name + "\" could not be solved to enough digits", .remedy = "try another --mesh"});
        // rigid motions strain nothing; added last, they cost the residual no digits
        for (size_t k = 0; k < model.rigid.size(); ++k)
            for (size_t i = 0; i < n; ++i) situation.dofs[i] += interfaces[s].answer.rigid_motion[k] * model.rigid[k][i];
        const ContactAnswer& answer = interfaces[s].answer;
        const auto n_points = static_cast<std::ptrdiff_t>(model.points.size());
        situation.tie_force = answer.force;
        situation.tie_gap = answer.gap;
        situation.tie_presses = answer.presses;
        situation.point_force.assign(answer.force.begin(), answer.force.begin() + n_points);
        situation.point_presses.assign(answer.presses.begin(), answer.presses.begin() + n_points);
        situation.applied = resultant_of_loads(model, plans[s].loads, loads[s]);
        balance(model, situation.dofs, reactions[s], situation);
        to_reference_surface(model.shell, situation.dofs);
        if (plans[s].passing >= 0 && model.supports.all_one_sided) {
            std::vector<int> standing = plans[s].loads;
            std::erase(standing, plans[s].passing);
            const std::vector<Point> hull = convex_hull(resting_places(model));
            Resultant stands = resultant_of_loads(model, standing, sum_of(load_columns, standing, n));
            const Resultant passes = resultant_of(model.shell, load_columns[static_cast<size_t>(plans[s].passing)]);
            if (const auto tipping = tipping_of(hull, stands, passes)) situation.tipping_factor = tipping->factor;
            if (!situation.tipping_factor || !with_own_weight(model, standing)) continue;
            const Resultant taken = hollowed_weight(model.shell);
            stands = {stands.force + taken.force, stands.x_moment + taken.x_moment, stands.y_moment + taken.y_moment};
            if (const auto tipping = tipping_of(hull, stands, passes)) situation.tipping_factor_solid = tipping->factor;
        }
    }
    return solved;
}

} // namespace hollowtop
