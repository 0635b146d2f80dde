// SPDX-License-Identifier: MIT
#include "solver/seasons/held_shape.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "solver/capacity/screw_borne.hpp"
#include "solver/model/contact_system.hpp"
#include "solver/model/make_model.hpp"
#include "solver/seasons/cupping.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace hollowtop {
namespace {

struct Stood {
    std::vector<double> dofs;
    ContactAnswer answer;
    std::vector<char> gives; ///< of the connections: a screw's that bears all it can
};

/// What each screw bears at most, and the compliances of the connections as screws that bear it are softened.
struct Screwed {
    std::vector<ScrewBorne> borne; ///< of each of ConnectionPlan::screws
    ConnectionSet set;
};

Screwed screwed(const Piece& piece, const Model& model) {
    Screwed screws{.borne = {}, .set = model.connections};
    for (const ScrewSeat& seat : model.bars.screws)
        screws.borne.push_back(
            borne_by_screw(piece, piece.stiffeners[static_cast<std::size_t>(seat.stiffener)], seat.thread));
    return screws;
}

bool is_shear(ConnectionKind kind) { return kind == ConnectionKind::shear || kind == ConnectionKind::stop; }

/// On each screw, N: sheared along and across its bar together, and pulled.
std::vector<ScrewBorne> forces_on_screws(const std::vector<Connection>& all, std::span<const double> force,
                                         std::size_t n_screws) {
    std::vector<Point> sheared(n_screws);
    std::vector<ScrewBorne> on(n_screws);
    for (std::size_t i = 0; i < force.size(); ++i) {
        if (all[i].screw < 0) continue;
        const auto screw = static_cast<std::size_t>(all[i].screw);
        if (is_shear(all[i].kind)) {
            sheared[screw].x += force[i] * all[i].way.x;
            sheared[screw].y += force[i] * all[i].way.y;
        } else if (all[i].kind == ConnectionKind::withdrawal) {
            on[screw].pulled_N = std::abs(force[i]);
        }
    }
    for (std::size_t screw = 0; screw < n_screws; ++screw)
        on[screw].shear_N = std::hypot(sheared[screw].x, sheared[screw].y);
    return on;
}

/// The answer in which no screw bears more than it can: one that would is softened until it bears just that
/// (its secant; the last of a slip that only grows).
ContactAnswer answer_of_screws(const Model& model, Screwed& screws, const std::vector<double>& at_columns,
                               const std::vector<double>& on_rigid, double weight) {
    const std::vector<Connection>& as_drawn = model.connections.all;
    screws.set.all = as_drawn;
    std::vector<double> shear(screws.borne.size(), 1), pull = shear; // times as soft
    constexpr int most = 60;
    constexpr double near_enough = 0.005;
    for (int pass = 0;; ++pass) {
        const ContactSystem contact(model, screws.set, static_cast<int>(as_drawn.size()), screws.set.n_bars,
                                    1);
        ContactAnswer answer = contact.answer_to(at_columns, on_rigid, weight);
        if (!answer.balanced || pass == most) return answer;
        const std::vector<ScrewBorne> on = forces_on_screws(as_drawn, answer.force, screws.borne.size());
        bool settled = true;
        const auto soften = [&](double& factor, double bears, double borne) {
            if (!(borne > 0)) return;
            const double now = std::max(1.0, factor * bears / borne);
            settled = settled && std::abs(now / factor - 1) <= near_enough;
            factor = now;
        };
        for (std::size_t i = 0; i < on.size(); ++i) {
            soften(shear[i], on[i].shear_N, screws.borne[i].shear_N);
            soften(pull[i], on[i].pulled_N, screws.borne[i].pulled_N);
        }
        if (settled) return answer;
        for (std::size_t i = 0; i < as_drawn.size(); ++i) {
            if (as_drawn[i].screw < 0) continue;
            const auto screw = static_cast<std::size_t>(as_drawn[i].screw);
            if (is_shear(as_drawn[i].kind))
                screws.set.all[i].compliance = as_drawn[i].compliance * shear[screw];
            else if (as_drawn[i].kind == ConnectionKind::withdrawal)
                screws.set.all[i].compliance = as_drawn[i].compliance * pull[screw];
        }
    }
}

double norm_of(const std::vector<double>& v) {
    double sum = 0;
    for (const double x : v) sum += x * x;
    return std::sqrt(sum);
}

/// Of the forces left unbalanced where nothing holds; `dofs` without rigid motions.
void expect_balance(const Model& model, const std::vector<double>& dofs, const std::vector<double>& forces) {
    std::vector<double> left(dofs.size(), 0);
    multiply(model.shell.stiffness, dofs, left);
    for (std::size_t i = 0; i < left.size(); ++i) left[i] -= forces[i];
    for (const auto& [dof, support] : model.shell.held_dof_support) left[static_cast<std::size_t>(dof)] = 0;
    const double size = norm_of(forces), share = size > 0 ? norm_of(left) / size : 0;
    constexpr double largest = 1e-6;
    if (share <= largest) return;
    throw Error(
        ErrorKind::not_computable,
        {.place = "top",
         .what = "the bow of the top on its supports could not be solved: the forces left unbalanced are " +
                 materials::digits(share) + " of the whole",
         .remedy = "please report the piece"});
}

/// Under `forces` on the top, of which `own` are its weight.
Stood stand(const Model& model, Screwed& screws, std::vector<double> forces, const std::vector<double>& own,
            double weight) {
    std::vector<double> moved = forces;
    model.factor->solve(moved, 1);
    // swelling is in balance with itself: its rounding must not pass for a load on the supports
    ContactAnswer answer = answer_of_screws(model, screws, at_points(model.columns->forces, moved),
                                            work_on_rigid(model, own), weight);
    if (!answer.balanced)
        throw Error(ErrorKind::not_computable, {.place = "supports",
                                                .what = "the top is not held by its supports",
                                                .remedy = "add pads, bearers or held lines"});
    std::vector<double> answered(forces.size(), 0);
    add_connection_forces(model, model.connections, answer.force, answered);
    for (std::size_t i = 0; i < forces.size(); ++i) forces[i] += answered[i];
    model.factor->solve(answered, 1);
    for (std::size_t i = 0; i < moved.size(); ++i) moved[i] += answered[i];
    expect_balance(model, moved, forces);
    for (std::size_t k = 0; k < model.rigid.size(); ++k)
        for (std::size_t i = 0; i < moved.size(); ++i) moved[i] += answer.rigid_motion[k] * model.rigid[k][i];
    to_reference_surface(model.shell, moved);
    Stood stood{.dofs = std::move(moved), .answer = std::move(answer), .gives = {}};
    for (std::size_t i = 0; i < screws.set.all.size(); ++i)
        stood.gives.push_back(screws.set.all[i].compliance > model.connections.all[i].compliance);
    return stood;
}

std::vector<double> swelling_forces(const Model& model, const std::vector<Zone>& zones,
                                    const std::vector<ZoneStrain>& strains) {
    const Shell& shell = model.shell;
    const Point across{-std::sin(shell.plane.grain_rad), std::cos(shell.plane.grain_rad)};
    return eigenstrain_forces(shell, [&](SectionRegion place) {
        const ZoneStrain& strain = strains[zone_of(zones, shell.field, place.region)];
        const double thickness = thickness_of(shell.field, place.region);
        return strain_in_direction(
            {.at_top = strain.mean + strain.difference / 2, .slope = strain.difference / thickness}, across,
            shell.reference_depth);
    });
}

std::vector<double> force_of_supports(const Model& model, const ContactAnswer& answer) {
    std::vector<double> force(model.supports.centres.size(), 0);
    for (std::size_t i = 0; i < static_cast<std::size_t>(model.n_bare); ++i) {
        const Connection& connection = model.connections.all[i];
        if (connection.support >= 0) force[static_cast<std::size_t>(connection.support)] += answer.force[i];
    }
    return force;
}

void read_screws(const Model& model, const Screwed& screws, const Stood& stood, HeldShape& held) {
    const std::vector<Connection>& all = model.connections.all;
    const std::vector<ScrewBorne> on = forces_on_screws(all, stood.answer.force, screws.borne.size());
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (all[i].screw < 0) continue;
        const auto screw = static_cast<std::size_t>(all[i].screw);
        const ScrewBorne &bears = on[screw], &borne = screws.borne[screw];
        if (is_shear(all[i].kind)) {
            held.yields = held.yields || stood.gives[i];
            if (bears.shear_N <= held.greatest_shear) continue;
            held.greatest_shear = bears.shear_N;
            held.shear_borne = borne.shear_N;
            held.sheared = bar_of(model, all[i]).name;
        } else if (all[i].kind == ConnectionKind::withdrawal) {
            held.is_drawn_out = held.is_drawn_out || stood.gives[i];
            if (bears.pulled_N <= held.greatest_pull) continue;
            held.greatest_pull = bears.pulled_N;
            held.pull_borne = borne.pulled_N;
            held.pulled = bar_of(model, all[i]).name;
            held.pulled_at = all[i].at;
        }
    }
    if (held.yields && held.shear_borne > 0)
        held.greatest_shear = std::min(held.greatest_shear, held.shear_borne);
    if (held.is_drawn_out && held.pull_borne > 0)
        held.greatest_pull = std::min(held.greatest_pull, held.pull_borne);
}

} // namespace

std::vector<HeldShape> held_shapes(const Piece& piece, const std::vector<Zone>& zones,
                                   std::span<const std::vector<ZoneStrain>> strains, int threads) {
    Piece bare_of_loads = piece;
    bare_of_loads.loads.clear();
    bare_of_loads.use.clear();
    bare_of_loads.probes.clear();
    const Model model = make_model(
        bare_of_loads,
        {.shell = {.size = season_mesh(piece), .order = high_order}, .threads = threads, .bonded = false});
    Screwed screws = screwed(piece, model);
    std::vector<double> own(static_cast<std::size_t>(model.shell.stiffness.grid.n_dofs()), 0);
    const bool weighs = !model.loads.empty() && model.loads.front().is_own_weight;
    if (weighs) own = model.loads.front().forces;
    const double weight = weighs ? 1 : 0;
    const Stood alone = stand(model, screws, own, own, weight);
    const std::vector<double> force_alone = force_of_supports(model, alone.answer);
    std::vector<HeldShape> all;
    for (const std::vector<ZoneStrain>& set : strains) {
        std::vector<double> forces = swelling_forces(model, zones, set);
        for (std::size_t i = 0; i < forces.size(); ++i) forces[i] += own[i];
        Stood swollen = stand(model, screws, std::move(forces), own, weight);
        for (std::size_t i = 0; i < swollen.dofs.size(); ++i) swollen.dofs[i] -= alone.dofs[i];
        HeldShape held;
        held.shape = cup_on(model.shell, swollen.dofs);
        read_screws(model, screws, swollen, held);
        const std::vector<double> force = force_of_supports(model, swollen.answer);
        for (std::size_t i = 0; i < force.size(); ++i)
            if (force_alone[i] > 0 && !(force[i] > 1e-9 * force_alone[i]))
                held.lets_go.push_back(piece.supports[i].name);
        all.push_back(std::move(held));
    }
    return all;
}

} // namespace hollowtop
