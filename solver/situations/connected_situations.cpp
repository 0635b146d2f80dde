// SPDX-License-Identifier: MIT
#include "solver/situations/connected_situations.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "solver/model/contact_system.hpp"
#include "solver/situations/active_contacts.hpp"
#include "solver/situations/tipping.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <utility>

namespace hollowtop {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

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
    Message what = said("under \"{}\" the top is not held by its supports", plan.name);
    const std::optional<Tipping> tipping =
        tipping_of(convex_hull(places), loads_that_tip(model, plan), as_it_is);
    if (model.supports.held.empty() && tipping.has_value()) {
        const auto coordinate = [](double mm) {
            Amounts of_a_place = amount(mm, Unit::mm, significant(4));
            of_a_place.is_place = true;
            return of_a_place;
        };
        what = said("under \"{}\" the top tips about the line from x {}, y {} to x {}, y {}", plan.name,
                    coordinate(tipping->from.x), coordinate(tipping->from.y), coordinate(tipping->to.x),
                    coordinate(tipping->to.y));
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

} // namespace

std::vector<std::vector<char>> pressing_of(std::span<const ConnectedSituation> connected) {
    std::vector<std::vector<char>> pressing;
    for (const ConnectedSituation& s : connected) pressing.push_back(s.answer.presses);
    return pressing;
}

std::vector<ConnectedSituation> connect_situations(const Model& model, std::vector<SituationPlan> plans,
                                                   std::span<const std::vector<char>> guessed) {
    std::vector<ConnectedSituation> connected;
    std::vector<ContactSystem> contact_systems; // one a creep factor and slip
    std::vector<char> guess; // what pressed before presses again, mostly; at first the supports alone
    for (const Connection& connection : model.connections.all)
        guess.push_back(connection.beam < 0 && connection.clearance <= 0);
    for (SituationPlan& plan : plans) {
        auto contact_system =
            std::find_if(contact_systems.begin(), contact_systems.end(), [&](const ContactSystem& t) {
                return t.creep_factor() == plan.creep_factor && t.slip() == plan.slip;
            });
        if (contact_system == contact_systems.end())
            contact_system = contact_systems.emplace(contact_systems.end(), model, model.connections,
                                                     static_cast<int>(model.connections.all.size()),
                                                     model.connections.n_bars, plan.creep_factor, plan.slip);
        // knife edges have points on nodes: on another mesh there may be more of them
        if (connected.size() < guessed.size() &&
            guessed[connected.size()].size() == model.connections.all.size())
            guess = guessed[connected.size()];
        ContactAnswer answer = answer_to(model, *contact_system, plan.loads, guess);
        if (!answer.balanced) answer = set_down_at_what_tips(model, *contact_system, plan, guess);
        guess = answer.presses;
        connected.push_back({.plan = std::move(plan), .answer = std::move(answer)});
    }
    return connected;
}

std::vector<ConnectedSituation> connect_situations(const Piece& piece, const Model& model,
                                                   std::span<const std::vector<char>> guessed) {
    return connect_situations(model, plan_situations(piece, model), guessed);
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
        for (const ActingLoad& acting : connected[s].plan.loads) {
            const std::vector<double>& moved = model.moved[static_cast<size_t>(acting.load)];
            Eigen::Map<VectorXd>(answered.data() + s * n, static_cast<Index>(n)) +=
                acting.factor * Eigen::Map<const VectorXd>(moved.data(), static_cast<Index>(n));
        }
}

} // namespace hollowtop
