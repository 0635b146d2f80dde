// SPDX-License-Identifier: MIT
#include "solver/capacity/screw_strength.hpp"

#include "materials/digits.hpp"
#include "materials/screw.hpp"
#include "materials/section.hpp"
#include "materials/strength.hpp"
#include "materials/table.hpp"
#include "materials/wood.hpp"
#include "solver/interface/beam.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

using materials::digits;
using materials::Sourced;

Sourced screw_rule(const char* id) { return materials::rule("screw_rules", id); }

/// What falls in proportion where the thread is shorter than it should be.
double held(double thread, double diameter, const Sourced& needed, Message& basis) {
    const double share = std::min(1.0, thread / (needed.value * diameter));
    if (share < 1)
        basis += said(", x {} as its thread in the wood is under {} d ({})", number(share),
                      number(needed.value), needed.source);
    return share;
}

/// EN 1995-1-1 8.7 on the class's density. Where the code gives no withdrawal, what the weakest of the
/// handbook's screws bear is the characteristic value.
std::optional<PulledOut> pulled_by_ec5(const Piece& piece, const ScrewInWood& screw, Duration duration) {
    const materials::Wood* const wood =
        piece.top.wood.empty() ? nullptr : &materials::find_wood(piece.top.wood);
    const double d = screw.diameter,
                 rho_k = materials::class_density_k(piece.allowables.strength_class).value;
    const Sourced thick = materials::code_thickness(),
                  k_mod = materials::k_mod(duration, piece.allowables.service_class),
                  gamma = screw_rule("gamma_M_connection");
    const bool thick_enough = screw.wood >= thick.value * d;
    std::optional<Sourced> pulled;
    if (thick_enough) pulled = materials::withdrawal_ec5(d, screw.thread, rho_k);
    if (thick_enough && !pulled && wood && !wood->softwood)
        pulled = materials::withdrawal_hardwood(d, screw.thread, rho_k);
    Message why;
    if (!pulled && wood) {
        pulled = materials::withdrawal_handbook_weakest(wood->sg_12, d, screw.thread);
        why = thick_enough ? Message("EN 1995-1-1 8.7.2 gives no withdrawal of a screw so thin, so ")
                           : said("EN 1995-1-1 table 8.6 asks for wood of {} d, more than the {} here, so ",
                                  number(thick.value), amount(screw.wood, Unit::mm));
    }
    if (!pulled) return std::nullopt;
    PulledOut out{.basis = why + pulled->source};
    out.force_N = k_mod.value / gamma.value * held(screw.thread, d, materials::code_thread(), out.basis) *
                  pulled->value;
    out.basis += said(", x k_mod {} / {}", number(k_mod.value), number(gamma.value));
    return out;
}

/// The Wood Handbook, against loads as they are.
PulledOut pulled_by_handbook(const materials::Wood& wood, const ScrewInWood& screw, Duration duration,
                             LoadFor judged_for) {
    const Sourced lasts = materials::duration_factor(duration);
    if (judged_for == LoadFor::everyday) {
        const Sourced pulled =
            materials::withdrawal_handbook_design(wood.sg_12, screw.diameter, screw.thread);
        return {pulled.value * lasts.value,
                said("{}, x {} for a load called {}", pulled.source, number(lasts.value), to_word(duration))};
    }
    // the force of a test is an extreme itself: the weakest screw in its own time, over 1.15 (judgement)
    constexpr double reserve = 1.15;
    const double in_a_test = materials::duration_factor(Duration::minutes).value;
    const Sourced weakest = materials::withdrawal_handbook_weakest(wood.sg_12, screw.diameter, screw.thread);
    return {weakest.value / reserve * lasts.value / in_a_test,
            said("{} / 1.15 (judgement) for the force of a test, x {} for a load called {}", weakest.source,
                 number(lasts.value / in_a_test), to_word(duration))};
}

/// EN 1995-1-1 on its own design values.
ScrewStrength by_ec5(const Piece& piece, const Stiffener& stiffener, const ScrewForce& screw,
                     Duration duration) {
    const double d = stiffener.screws.diameter, thread = screw.thread;
    const double rho_k = materials::class_density_k(piece.allowables.strength_class).value;
    const Sourced k_mod = materials::k_mod(duration, piece.allowables.service_class),
                  gamma = screw_rule("gamma_M_connection");
    const double factor = k_mod.value / gamma.value;
    const Message design = said(", x k_mod {} / {}", number(k_mod.value), number(gamma.value));
    const double grip = materials::parse_section(stiffener.section).grip;
    const materials::Shear one{.d = materials::effective_diameter(d).value, .axial = 0};
    ScrewStrength strength;
    Message basis = said("EN 1995-1-1 8.2 and 8.7, without the rope effect, rho_k {} kg/m3 of {}",
                         number(rho_k), piece.allowables.strength_class);
    double shear = 0;
    if (is_of_wood(stiffener)) {
        const Sourced share = screw_rule("rho_k_share");
        const double rho_bar = stiffener.wood.empty()
                                   ? share.value * stiffener.elastic->density_kg_m3
                                   : share.value * materials::find_wood(stiffener.wood).density_12_kg_m3;
        shear = materials::shear_timber(one, grip, rho_bar > 0 ? rho_bar : rho_k, thread, rho_k).least;
    } else {
        shear = materials::shear_steel_plate(one, grip, thread, rho_k);
    }
    const double whole = held(thread, d, materials::code_thread(), basis);
    strength.shear_N = factor * whole * shear;
    strength.shear_basis = basis + design;
    if (const auto pulled =
            pulled_by_ec5(piece, {.diameter = d, .thread = thread, .wood = screw.wood}, duration)) {
        strength.withdrawal_N = pulled->force_N;
        strength.withdrawal_basis = pulled->basis;
    }
    return strength;
}

/// The Wood Handbook, against loads as they are.
ScrewStrength by_handbook(const Stiffener& stiffener, const materials::Wood& wood, const ScrewForce& screw,
                          Duration duration, LoadFor judged_for) {
    const double d = stiffener.screws.diameter, thread = screw.thread;
    const Sourced lasts = materials::duration_factor(duration);
    const Message lasting = said(", x {} for a load called {}", number(lasts.value), to_word(duration));
    ScrewStrength strength;
    const PulledOut pulled =
        pulled_by_handbook(wood, {.diameter = d, .thread = thread, .wood = screw.wood}, duration, judged_for);
    strength.withdrawal_N = pulled.force_N;
    strength.withdrawal_basis = pulled.basis;
    if (const auto lateral = materials::lateral_handbook_design(wood.sg_12, wood.softwood, d)) {
        strength.shear_basis = said("the mean load at the proportional limit, {}", lateral->source);
        strength.shear_N = lateral->value *
                           held(thread, d, materials::handbook_thread(), strength.shear_basis) * lasts.value;
        strength.shear_basis += lasting;
    }
    return strength;
}

} // namespace

std::optional<PulledOut> screw_pulled_out(const Piece& piece, const ScrewInWood& screw, Duration duration,
                                          LoadFor judged_for) {
    if (screw.thread <= 0 || !piece.top.sheet.empty())
        return std::nullopt; // how sheets hold screws is not known here
    if (piece.allowables.basis == AllowablesBasis::strength_class)
        return pulled_by_ec5(piece, screw, duration);
    if (piece.top.wood.empty()) return std::nullopt;
    return pulled_by_handbook(materials::find_wood(piece.top.wood), screw, duration, judged_for);
}

std::vector<ScrewStrength> screw_strengths(const Piece& piece, const ScrewForce& screw, Duration duration,
                                           LoadFor judged_for) {
    if (screw.thread <= 0 || !piece.top.sheet.empty()) return {}; // how sheets hold screws is not known here
    const Stiffener& stiffener = piece.stiffeners[static_cast<size_t>(screw.stiffener)];
    const materials::Wood* wood = piece.top.wood.empty() ? nullptr : &materials::find_wood(piece.top.wood);
    if (piece.allowables.basis == AllowablesBasis::strength_class)
        return {by_ec5(piece, stiffener, screw, duration)};
    if (!wood) return {};
    return {by_handbook(stiffener, *wood, screw, duration, judged_for)};
}

ScrewUse use_of_screw(const std::vector<ScrewStrength>& strengths, const ScrewForce& screw) {
    ScrewUse use;
    for (const ScrewStrength& strength : strengths) {
        const auto take = [&](std::optional<double>& greatest, double share, Message& basis,
                              const Message& of) {
            if (greatest && *greatest >= share) return false;
            greatest = share;
            basis = of;
            return true;
        };
        double shear = 0, pulled = 0;
        if (strength.shear_N && *strength.shear_N > 0) {
            shear = screw.shear_N / *strength.shear_N;
            if (take(use.shear, shear, use.shear_basis, strength.shear_basis))
                use.shear_capacity_N = *strength.shear_N;
        }
        if (strength.withdrawal_N && *strength.withdrawal_N > 0) {
            pulled = screw.withdrawal_N / *strength.withdrawal_N;
            if (take(use.withdrawal, pulled, use.withdrawal_basis, strength.withdrawal_basis))
                use.withdrawal_capacity_N = *strength.withdrawal_N;
        }
        if (strength.shear_N && strength.withdrawal_N)
            take(use.both, std::hypot(shear, pulled), use.both_basis,
                 said("{}; {}", strength.shear_basis, strength.withdrawal_basis));
    }
    return use;
}

ScrewUse ScrewUses::of(const ScrewForce& screw, Duration duration, LoadFor judged_for) {
    const auto [known, is_new] =
        known_.try_emplace({screw.stiffener, screw.thread, screw.wood, duration, judged_for});
    if (is_new) known->second = screw_strengths(*piece_, screw, duration, judged_for);
    return use_of_screw(known->second, screw);
}

} // namespace hollowtop
