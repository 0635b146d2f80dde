// SPDX-License-Identifier: MIT
#include "solver/checks/screw_strength.hpp"

#include "materials/digits.hpp"
#include "materials/screw.hpp"
#include "materials/section.hpp"
#include "materials/wood.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

constexpr double gamma_M = 1.3;              // connections, EN 1995-1-1 table 2.3, from memory
constexpr double characteristic_share = 0.84; // of the mean density: 5-percentile at a spread of 10 %, EN 384, from memory
constexpr double full_hold = 7;              // diameters of thread for the full lateral load, Wood Handbook eq. 8-13

ScrewStrength by_ec5(const Piece& piece, const Stiffener& stiffener, const materials::Wood& wood, double thread, Duration duration) {
    const double rho_k = characteristic_share * wood.density_12_kg_m3, d = stiffener.screws.diameter;
    const double factor = materials::k_mod(duration, piece.allowables.service_class).value / gamma_M;
    const double grip = materials::parse_section(stiffener.section).grip;
    const materials::Shear screw{.d = materials::effective_diameter(d).value, .axial = 0};
    double shear = 0;
    if (stiffener.wood.empty()) {
        shear = materials::shear_steel_plate(screw, grip, thread, rho_k);
    } else {
        const double rho_batten = characteristic_share * materials::find_wood(stiffener.wood).density_12_kg_m3;
        shear = materials::shear_timber(screw, grip, rho_batten, thread, rho_k).least;
    }
    ScrewStrength strength{.shear_N = factor * shear, .withdrawal_N = {},
                           .basis = "EN 1995-1-1 8.2 and 8.7, without the rope effect, rho_k 0.84 of the mean, k_mod / 1.3"};
    if (const auto pulled = materials::withdrawal_ec5(d, thread, rho_k)) strength.withdrawal_N = factor * pulled->value;
    else if (const auto hardwood = wood.softwood ? std::nullopt : materials::withdrawal_hardwood(d, thread, rho_k))
        strength.withdrawal_N = factor * hardwood->value;
    return strength;
}

ScrewStrength by_handbook(const Stiffener& stiffener, const materials::Wood& wood, double thread) {
    const double d = stiffener.screws.diameter;
    ScrewStrength strength{.shear_N = {}, .withdrawal_N = materials::withdrawal_handbook_design(wood.sg_12, d, thread).value,
                           .basis = "Wood Handbook eq. 8-13 (lateral, proportional limit) and a fifth of eq. 8-10 (withdrawal)"};
    if (const auto lateral = materials::lateral_handbook(wood.sg_12, wood.softwood, d))
        strength.shear_N = lateral->value * std::min(1.0, thread / (full_hold * d));
    return strength;
}

} // namespace

std::vector<ScrewStrength> screw_strengths(const Piece& piece, const ScrewForce& screw, Duration duration) {
    if (piece.top.wood.empty() || screw.thread <= 0) return {};
    const Stiffener& stiffener = piece.stiffeners[static_cast<size_t>(screw.stiffener)];
    const materials::Wood& wood = materials::find_wood(piece.top.wood);
    return {by_ec5(piece, stiffener, wood, screw.thread, duration), by_handbook(stiffener, wood, screw.thread)};
}

ScrewUse use_of_screw(const std::vector<ScrewStrength>& strengths, const ScrewForce& screw) {
    ScrewUse use;
    for (const ScrewStrength& strength : strengths) {
        const auto take = [&](std::optional<double>& greatest, double share, std::string& basis) {
            if (greatest && *greatest >= share) return false;
            greatest = share;
            basis = strength.basis;
            return true;
        };
        double shear = 0, pulled = 0;
        if (strength.shear_N && *strength.shear_N > 0) {
            shear = screw.shear_N / *strength.shear_N;
            if (take(use.shear, shear, use.shear_basis)) use.shear_capacity_N = *strength.shear_N;
        }
        if (strength.withdrawal_N && *strength.withdrawal_N > 0) {
            pulled = screw.withdrawal_N / *strength.withdrawal_N;
            if (take(use.withdrawal, pulled, use.withdrawal_basis)) use.withdrawal_capacity_N = *strength.withdrawal_N;
        }
        if (strength.shear_N && strength.withdrawal_N) take(use.both, std::hypot(shear, pulled), use.both_basis);
    }
    return use;
}

ScrewUse ScrewUses::of(const ScrewForce& screw, Duration duration) {
    const auto [known, is_new] = known_.try_emplace({screw.stiffener, screw.thread, duration});
    if (is_new) known->second = screw_strengths(*piece_, screw, duration);
    return use_of_screw(known->second, screw);
}

} // namespace hollowtop
