// SPDX-License-Identifier: MIT
#include "solver/readout/gather_bars.hpp"

#include "solver/model/contact_system.hpp"
#include "solver/readout/movement.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace hollowtop {
namespace {

/// All forces on one bar, and the places where they change.
struct BarForces {
    std::vector<BeamForce> forces;
    std::vector<double> places;
};

BarForces forces_on_bar(const std::vector<Connection>& connections, int bar,
                        const std::vector<double>& connection_force) {
    BarForces all;
    for (size_t i = 0; i < connection_force.size(); ++i) {
        if (connections[i].beam != bar || connection_force[i] == 0) continue;
        for (BeamForce force : connections[i].on_beam) {
            for (double& f : force.f) f *= connection_force[i];
            all.forces.push_back(force);
            all.places.push_back(force.s);
        }
    }
    std::sort(all.places.begin(), all.places.end());
    all.places.erase(std::unique(all.places.begin(), all.places.end()), all.places.end());
    return all;
}

/// Sections just before and just after each place where a force acts: between them moments run straight but
/// for the weight.
template <class See> void walk(const Beam& beam, const BarForces& all, See see) {
    const double step = 1e-7 * beam.length;
    for (const double s : all.places)
        for (const double at : {s - step, s + step}) see(at, section_forces(beam, at, all.forces));
}

Beam with_weight(Beam beam, double times) {
    beam.weight *= times;
    return beam;
}

/// What the glue of one stretch carries, in the bar's axes: a force of the bar on the wood, N.
struct GluedStretch {
    double from = 0, to = 0, along = 0, across = 0, area = 0;
};

std::vector<GluedStretch> glued_stretches(const std::vector<Connection>& connections, int bar,
                                          const Beam& beam, const std::vector<double>& connection_force) {
    std::map<double, GluedStretch> at; // by the middle of the stretch
    const double width = beam.section.contact_y1 - beam.section.contact_y0;
    for (size_t i = 0; i < connection_force.size(); ++i) {
        const Connection& connection = connections[i];
        if (connection.beam != bar || connection.kind != ConnectionKind::bond) continue;
        double along = 0, across = 0;
        for (const BeamForce& force : connection.on_beam) {
            along -= force.f[0];
            across -= force.f[1];
        }
        if (along == 0 && across == 0) continue;
        GluedStretch& stretch = at[connection.s];
        stretch.along += along * connection_force[i];
        stretch.across += across * connection_force[i];
        if (along != 0) stretch.area += connection.area;
    }
    std::vector<GluedStretch> stretches;
    for (auto& [s, stretch] : at) {
        const double half = stretch.area / width / 2;
        stretch.from = s - half;
        stretch.to = s + half;
        stretches.push_back(stretch);
    }
    return stretches;
}

/// Means over a window as long as the bar is high, which ends where the bar ends: between two beams glued
/// together the flow gathers in a point at their ends; in wood it spreads over about their height
/// (Saint-Venant).
std::vector<GlueStress> glue_stresses(const Beam& beam, const std::vector<GluedStretch>& stretches) {
    std::vector<GlueStress> told;
    const double half_window = std::min(beam.section.height, beam.length) / 2, half_bar = beam.length / 2;
    for (const GluedStretch& stretch : stretches) {
        const double middle =
            std::clamp((stretch.from + stretch.to) / 2, half_window - half_bar, half_bar - half_window);
        GlueStress mean{.at = beam.at(middle)};
        double area = 0;
        for (const GluedStretch& other : stretches) {
            const double shared =
                std::min(other.to, middle + half_window) - std::max(other.from, middle - half_window);
            if (shared <= 0) continue;
            const double share = shared / (other.to - other.from);
            mean.along += share * other.along;
            mean.across += share * other.across;
            area += share * other.area;
        }
        mean.along /= area;
        mean.across /= area;
        told.push_back(mean);
    }
    return told;
}

StiffenerForce stiffener_force(const Model& model, const SolvedSituation& s, int bar) {
    const Beam beam =
        with_weight(model.bars.beams[static_cast<size_t>(bar)], own_weight_in(model, s.plan.loads));
    StiffenerForce force;
    walk(beam, forces_on_bar(model.connections.all, bar, s.connection_force),
         [&](double at, const SectionForces& section) {
             const double stress = greatest_stress(beam, section);
             if (std::abs(stress) > std::abs(force.stress_MPa)) {
                 force.stress_MPa = stress;
                 force.at = beam.at(at);
             }
             if (std::abs(section.N) > std::abs(force.axial_N)) force.axial_N = section.N;
             constexpr double peak =
                 1.25; // with the shear area of a rectangle, 5/6 of its own, 1.5 times the mean
             const double shear =
                 peak * std::hypot(section.V_y / beam.section.A_sy, section.V_z / beam.section.A_sz);
             if (shear > force.shear_MPa) {
                 force.shear_MPa = shear;
                 force.shear_at = beam.at(at);
             }
         });
    force.glue = glue_stresses(beam, glued_stretches(model.connections.all, bar, beam, s.connection_force));
    for (size_t i = 0; i < model.connections.all.size(); ++i) {
        const Connection& connection = model.connections.all[i];
        if (connection.beam != bar || connection.area <= 0 || (connection.kind != ConnectionKind::contact))
            continue;
        const double pressure = s.connection_force[i] / connection.area;
        if (pressure <= force.pressure_MPa) continue;
        force.pressure_MPa = pressure;
        force.pressure_at = connection.at;
    }
    return force;
}

std::vector<ScrewForce> screw_forces(const Model& model, const SolvedSituation& s) {
    std::vector<ScrewForce> screws;
    for (const ScrewSeat& seat : model.bars.screws)
        screws.push_back(
            {.stiffener = seat.stiffener, .at = seat.at, .thread = seat.thread, .wood = seat.wood});
    std::vector<Point> shear(screws.size()), slip(screws.size());
    for (size_t i = 0; i < model.connections.all.size(); ++i) {
        const Connection& connection = model.connections.all[i];
        if (connection.screw < 0) continue;
        const auto k = static_cast<size_t>(connection.screw);
        const double f = s.connection_force[i];
        if (connection.kind == ConnectionKind::withdrawal) {
            screws[k].withdrawal_N = f;
            continue;
        }
        shear[k].x += f * connection.way.x;
        shear[k].y += f * connection.way.y;
        // gap = movement along the way + clearance + compliance x force
        double moved = s.connection_gap[i] - connection.clearance -
                       compliance_of(connection, s.plan.creep_factor, s.plan.slip) * f;
        if (connection.kind == ConnectionKind::stop) moved /= 2; // told by both edges of the slot
        slip[k].x += moved * connection.way.x;
        slip[k].y += moved * connection.way.y;
    }
    for (size_t k = 0; k < screws.size(); ++k) {
        screws[k].shear_N = std::hypot(shear[k].x, shear[k].y);
        screws[k].pushes = shear[k];
        screws[k].slip_mm = std::hypot(slip[k].x, slip[k].y);
    }
    return screws;
}

/// Greatest axial force in size, and where.
std::pair<double, double> axial_peak(const Beam& beam, const BarForces& all) {
    std::pair<double, double> peak{0, 0};
    walk(beam, all, [&](double at, const SectionForces& section) {
        if (std::abs(section.N) > std::abs(peak.first)) peak = {section.N, at};
    });
    return peak;
}

/// Movement of the top under a situation's loads with other connections.
double sag_with(const Model& model, const SolvedSituation& s, const ContactState& connected,
                const std::vector<double>& moved) {
    std::vector<double> dofs = connected.forces;
    model.factor->solve(dofs, 1);
    for (size_t i = 0; i < dofs.size(); ++i) {
        dofs[i] = s.plan.creep_factor * (dofs[i] + moved[i]);
        for (size_t k = 0; k < model.rigid.size(); ++k)
            dofs[i] += connected.answer.rigid_motion[k] * model.rigid[k][i];
    }
    to_reference_surface(model.shell, dofs);
    SolvedSituation other{.plan = s.plan,
                          .dofs = std::move(dofs),
                          .point_force = {},
                          .point_presses = {},
                          .connection_force = {},
                          .connection_gap = {},
                          .connection_presses = {},
                          .support_force = {},
                          .applied = {},
                          .equilibrium_error = 0,
                          .residual = 0,
                          .tipping_factor = {}};
    other.point_force.assign(connected.answer.force.begin(),
                             connected.answer.force.begin() +
                                 static_cast<std::ptrdiff_t>(model.points.size()));
    return sag_of(model.shell, other, support_plane(model, other)).value;
}

} // namespace

void gather_bars_of(const Piece& piece, const Model& model, const SolvedSituation& solved,
                    SituationResponse& response) {
    for (size_t i = 0; i < piece.stiffeners.size(); ++i)
        response.stiffeners.push_back(
            stiffener_force(model, solved, model.bars.n_rails + static_cast<int>(i)));
    response.screws = screw_forces(model, solved);
}

void gather_bars(const Piece& piece, const Model& model, const std::vector<SolvedSituation>& solved,
                 Response& response) {
    const size_t n = response.situations.size();
    for (size_t s = 0; s < solved.size(); ++s)
        gather_bars_of(piece, model, solved[s], s < n ? response.situations[s] : response.designs[s - n]);
}

StiffeningAnswer stiffening_of(const Piece& piece, const Model& model,
                               const std::vector<SolvedSituation>& solved, const Response& response) {
    StiffeningAnswer answer;
    if (piece.stiffeners.empty() || solved.empty()) return answer;
    size_t worst = 0;
    for (size_t s = 0; s < response.situations.size(); ++s)
        if (solved[s].plan.stage != Stage::years &&
            response.situations[s].sag_mm > response.situations[worst].sag_mm)
            worst = s;
    const SolvedSituation& situation = solved[worst];
    const size_t n = situation.dofs.size();
    std::vector<double> forces(n, 0), moved(n, 0);
    for (const auto& [k, factor] : situation.plan.loads)
        for (size_t i = 0; i < n; ++i) {
            forces[i] += factor * model.loads[static_cast<size_t>(k)].forces[i];
            moved[i] += factor * model.moved[static_cast<size_t>(k)][i];
        }
    const ContactLoad load{
        .forces = forces, .moved = moved, .weight = own_weight_in(model, situation.plan.loads)};
    const ContactState bare =
        ContactSystem(model, model.connections, model.n_bare, model.bars.n_rails, situation.plan.creep_factor)
            .solve(load);
    const ContactState glued = ContactSystem(model, model.bonded, static_cast<int>(model.bonded.all.size()),
                                             model.bonded.n_bars, situation.plan.creep_factor)
                                   .solve(load);
    answer.stiffening = {.situation = situation.plan.name,
                         .without_mm = sag_with(model, situation, bare, moved),
                         .with_mm = response.situations[worst].sag_mm,
                         .bonded_mm = sag_with(model, situation, glued, moved)};
    for (size_t i = 0; i < piece.stiffeners.size(); ++i) {
        const int bar = model.bars.n_rails + static_cast<int>(i);
        const Beam& beam = model.bars.beams[static_cast<size_t>(bar)];
        const auto [most, at] = axial_peak(beam, forces_on_bar(model.bonded.all, bar, glued.answer.force));
        const double here =
            section_forces(beam, at,
                           forces_on_bar(model.connections.all, bar, situation.connection_force).forces)
                .N;
        answer.composite_action.push_back(most != 0 ? std::clamp(here / most, 0.0, 1.0) : 0.0);
    }
    return answer;
}

} // namespace hollowtop
