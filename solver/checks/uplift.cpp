// SPDX-License-Identifier: MIT
// What holds the top down against what lifts it: a clip or button of stated strength, or screws pulled out of the top's wood.
#include "materials/digits.hpp"
#include "materials/screw.hpp"
#include "materials/wood.hpp"
#include "solver/checks/judges.hpp"

#include <utility>

namespace hollowtop {
namespace {

struct Hold {
    double force = 0;
    std::string basis;
};

/// By the rules of EN 1995-1-1 8.7 on a strength class, by the handbook's else.
std::optional<Hold> screws_hold(const Piece& piece, const HoldDown& held, Duration duration) {
    using materials::digits;
    if (piece.top.wood.empty()) return std::nullopt;
    const materials::Wood& wood = materials::find_wood(piece.top.wood);
    const std::string count = digits(held.screws) + (held.screws == 1 ? " screw of " : " screws of ") + digits(held.diameter) + " mm, " + digits(held.length) + " mm in the wood; ";
    if (piece.allowables.basis == AllowablesBasis::handbook) {
        const materials::Sourced one = materials::withdrawal_handbook_design(wood.sg_12, held.diameter, held.length);
        return Hold{held.screws * one.value, count + "a fifth of Wood Handbook eq. 8-10"};
    }
    constexpr double characteristic_share = 0.84, gamma_M = 1.3; // EN 384: 5-percentile at a spread of 10 %; EN 1995-1-1 table 2.3; both from memory
    const double rho_k = characteristic_share * wood.density_12_kg_m3;
    const auto by_code = materials::withdrawal_ec5(held.diameter, held.length, rho_k);
    const auto one = by_code || wood.softwood ? by_code : materials::withdrawal_hardwood(held.diameter, held.length, rho_k);
    if (!one) return std::nullopt;
    const materials::Sourced lasting = materials::k_mod(duration, piece.allowables.service_class);
    return Hold{held.screws * one->value * lasting.value / gamma_M,
                count + one->source + ", rho_k 0.84 of the mean density, k_mod " + digits(lasting.value) + " / gamma_M 1.3"};
}

std::optional<Hold> hold_of(const Piece& piece, const Support& support, Duration duration) {
    const HoldDown held = std::visit([](const auto& kind) { if constexpr (requires { kind.held_by; }) return kind.held_by; else return HoldDown{}; }, support.kind);
    if (held.strength_N) return Hold{*held.strength_N, "as stated for it"};
    if (held.screws > 0) return screws_hold(piece, held, duration);
    return std::nullopt;
}

} // namespace

std::optional<CheckResult> judge_uplift(const CheckInput& input) {
    std::optional<CheckResult> worst;
    for (std::size_t i = 0; i < std::min(input.situation.supports.size(), input.piece.supports.size()); ++i) {
        const SupportForce& support = input.situation.supports[i];
        if (!(support.pull_N > 0)) continue;
        const std::optional<Hold> hold = hold_of(input.piece, input.piece.supports[i], input.situation.duration);
        if (!hold || (worst && !is_more(support.pull_N / hold->force, worst->demand / worst->capacity))) continue;
        CheckResult row;
        row.demand = support.pull_N;
        row.capacity = hold->force;
        row.unit = "N";
        row.at = support.centre;
        row.basis = "at " + support.support + "; " + hold->basis;
        row.remedy = "hold the top with more or longer screws or a stronger clip, or move the supports outwards";
        worst = std::move(row);
    }
    return worst;
}

std::vector<std::string> told_of_uplift(const Piece& piece, const Response& response) {
    std::vector<std::string> told;
    const std::vector<SituationResponse>& judged = response.designs.empty() ? response.situations : response.designs;
    constexpr double worth_telling = 1; // N
    for (std::size_t i = 0; i < piece.supports.size(); ++i) {
        double most = 0;
        std::optional<std::string> situation;
        for (const SituationResponse& s : judged)
            if (i < s.supports.size() && s.supports[i].pull_N > most && !hold_of(piece, piece.supports[i], s.duration)) {
                most = s.supports[i].pull_N;
                situation = s.name;
            }
        if (!situation || most < worth_telling) continue;
        told.push_back("Not judged: nothing says what holds the top down at \"" + piece.supports[i].name + "\", which pulls with up to " + materials::digits(most, 3) +
                       " N under \"" + *situation + "\"; give \"hold_down\" as a force or as screws.");
    }
    return told;
}

} // namespace hollowtop
