// SPDX-License-Identifier: MIT
#include "solver/seasons/held_shape.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
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
};

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
Stood stand(const Model& model, const ContactSystem& contact, std::vector<double> forces,
            const std::vector<double>& own, double weight) {
    std::vector<double> moved = forces;
    model.factor->solve(moved, 1);
    // swelling is in balance with itself: its rounding must not pass for a load on the supports
    ContactAnswer answer =
        contact.answer_to(at_points(model.columns->forces, moved), work_on_rigid(model, own), weight);
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
    return {.dofs = std::move(moved), .answer = std::move(answer)};
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

void read_screws(const Model& model, const ContactAnswer& answer, HeldShape& held) {
    for (std::size_t i = 0; i < model.connections.all.size(); ++i) {
        const Connection& connection = model.connections.all[i];
        if (connection.screw < 0) continue;
        const double force = std::abs(answer.force[i]);
        const bool pulls = connection.kind == ConnectionKind::withdrawal;
        double& greatest = pulls ? held.greatest_pull : held.greatest_shear;
        if (force <= greatest) continue;
        greatest = force;
        (pulls ? held.pulled : held.sheared) = bar_of(model, connection).name;
        if (pulls) held.pulled_at = connection.at;
    }
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
    const ContactSystem contact(model, model.connections, static_cast<int>(model.connections.all.size()),
                                model.connections.n_bars, 1);
    std::vector<double> own(static_cast<std::size_t>(model.shell.stiffness.grid.n_dofs()), 0);
    const bool weighs = !model.loads.empty() && model.loads.front().is_own_weight;
    if (weighs) own = model.loads.front().forces;
    const double weight = weighs ? 1 : 0;
    const Stood alone = stand(model, contact, own, own, weight);
    const std::vector<double> force_alone = force_of_supports(model, alone.answer);
    std::vector<HeldShape> all;
    for (const std::vector<ZoneStrain>& set : strains) {
        std::vector<double> forces = swelling_forces(model, zones, set);
        for (std::size_t i = 0; i < forces.size(); ++i) forces[i] += own[i];
        Stood swollen = stand(model, contact, std::move(forces), own, weight);
        for (std::size_t i = 0; i < swollen.dofs.size(); ++i) swollen.dofs[i] -= alone.dofs[i];
        HeldShape held;
        held.shape = cup_on(model.shell, swollen.dofs);
        read_screws(model, swollen.answer, held);
        const std::vector<double> force = force_of_supports(model, swollen.answer);
        for (std::size_t i = 0; i < force.size(); ++i)
            if (force_alone[i] > 0 && !(force[i] > 1e-9 * force_alone[i]))
                held.lets_go.push_back(piece.supports[i].name);
        all.push_back(std::move(held));
    }
    return all;
}

} // namespace hollowtop
