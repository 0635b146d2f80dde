// SPDX-License-Identifier: MIT
// What holds the top down against what lifts it: a clip or button of stated strength, or screws pulled out of
// the top's wood.
#include "materials/digits.hpp"
#include "solver/capacity/screw_strength.hpp"
#include "solver/checks/judges.hpp"

#include <utility>

namespace hollowtop {
namespace {

struct Hold {
    double force = 0;
    Message basis;
};

std::optional<Hold> screws_hold(const Piece& piece, const HoldDown& held, Duration duration,
                                LoadFor judged_for) {
    using materials::digits;
    const auto one = screw_pulled_out(
        piece, {.diameter = held.diameter, .thread = held.length, .wood = piece.top.thickness}, duration,
        judged_for);
    if (!one) return std::nullopt;
    return Hold{held.screws * one->force_N,
                said("{}{}{}, {} in the wood; {}", digits(held.screws),
                     held.screws == 1 ? " screw of " : " screws of ", amount(held.diameter, Unit::mm),
                     amount(held.length, Unit::mm), one->basis)};
}

std::optional<Hold> hold_of(const Piece& piece, const Support& support, Duration duration,
                            LoadFor judged_for) {
    const HoldDown held = std::visit(
        [](const auto& kind) {
            if constexpr (requires { kind.held_by; })
                return kind.held_by;
            else
                return HoldDown{};
        },
        support.kind);
    if (held.strength_N) return Hold{*held.strength_N, "as stated for it"};
    if (held.screws > 0) return screws_hold(piece, held, duration, judged_for);
    return std::nullopt;
}

} // namespace

std::optional<CheckResult> judge_uplift(const CheckInput& input) {
    std::optional<CheckResult> worst;
    for (std::size_t i = 0; i < std::min(input.situation.supports.size(), input.piece.supports.size()); ++i) {
        const SupportForce& support = input.situation.supports[i];
        if (!(support.pull_N > 0)) continue;
        const std::optional<Hold> hold = hold_of(input.piece, input.piece.supports[i],
                                                 input.situation.duration, input.situation.judged_for);
        if (!hold || (worst && !is_more(support.pull_N / hold->force, worst->demand / worst->capacity)))
            continue;
        CheckResult row;
        row.demand = support.pull_N;
        row.capacity = hold->force;
        row.unit = std::string("N");
        row.at = support.centre;
        row.basis = said("at {}; {}", support.support, hold->basis);
        row.remedy =
            "hold the top with more or longer screws or a stronger clip, or move the supports outwards";
        worst = std::move(row);
    }
    return worst;
}

std::vector<Message> told_of_uplift(const Piece& piece, const Response& response) {
    const std::vector<SituationResponse>& judged =
        response.designs.empty() ? response.situations : response.designs;
    constexpr double worth_telling = 1; // N
    std::vector<Message> names;
    double most = 0; // of all
    Message at, situation;
    for (std::size_t i = 0; i < piece.supports.size(); ++i) {
        double pull = 0;
        for (const SituationResponse& s : judged) {
            if (i >= s.supports.size() || hold_of(piece, piece.supports[i], s.duration, s.judged_for))
                continue;
            pull = std::max(pull, s.supports[i].pull_N);
            if (s.supports[i].pull_N <= most) continue;
            most = s.supports[i].pull_N;
            at = piece.supports[i].name;
            situation = s.name;
        }
        if (pull >= worth_telling) names.push_back(said("\"{}\"", piece.supports[i].name));
    }
    if (names.empty()) return {};
    if (names.size() == 1)
        return {said("Not judged: nothing says what holds the top down at \"{}\", which pulls with up to {} "
                     "under \"{}\"; give \"hold_down\" as a force or as screws.",
                     at, amount(most, Unit::N), situation)};
    return {
        said("Not judged: nothing says what holds the top down at {}, of which \"{}\" pulls most, with up "
             "to {} under \"{}\"; give \"hold_down\" as a force or as screws.",
             joined(std::move(names), ", ", " and "), at, amount(most, Unit::N), situation)};
}

} // namespace hollowtop
