// SPDX-License-Identifier: MIT
#include "solver/hand/hand_rows.hpp"

#include "solver/hand/hand_estimate.hpp"

#include <algorithm>

namespace hollowtop {

std::vector<HandEstimate> estimates_by_hand(const Piece& piece, const std::vector<SituationPlan>& plans,
                                            int n_before, const Result& result) {
    std::vector<HandEstimate> rows;
    const Message why_not = why_not_by_hand(piece);
    for (std::size_t s = 0; s < std::min(plans.size(), result.situations.size()); ++s) {
        const SituationResult& situation = result.situations[s];
        HandEstimate row{
            .situation = situation.name, .sag_mm = {}, .why_not = why_not, .computed_over_hand = {}};
        const auto lifts = [](const Reaction& r) { return r.lifts; };
        if (row.why_not.empty() && std::any_of(situation.reactions.begin(), situation.reactions.end(), lifts))
            row.why_not = "a support lets go";
        if (row.why_not.empty() && plans[s].set_down < 1) row.why_not = "the top tips";
        if (row.why_not.empty()) {
            HandLoads loads{.loads = {}, .own_weight = false, .creep_factor = plans[s].creep_factor};
            for (const ActingLoad& acting : plans[s].loads) {
                if (acting.load < n_before)
                    loads.own_weight = true;
                else
                    loads.loads.push_back(acting.load - n_before);
            }
            const HandAnswer answer = sag_by_hand(piece, loads);
            row.why_not = answer.why_not;
            if (answer.sag && !(answer.sag->sag_mm > 0))
                row.why_not = "no sag by hand";
            else if (answer.sag)
                row.sag_mm = answer.sag->sag_mm;
        }
        if (row.sag_mm) {
            row.computed_over_hand = situation.sag_mm / *row.sag_mm;
            row.agrees =
                *row.computed_over_hand >= least_over_hand && *row.computed_over_hand <= most_over_hand;
        }
        rows.push_back(std::move(row));
    }
    return rows;
}

void warn_of_disagreement(Result& result) {
    std::vector<const HandEstimate*> rows;
    for (const HandEstimate& row : result.by_hand)
        if (row.computed_over_hand) rows.push_back(&row);
    if (rows.empty()) return;
    const auto middle = rows.begin() + static_cast<std::ptrdiff_t>(rows.size() / 2);
    std::nth_element(rows.begin(), middle, rows.end(), [](const HandEstimate* a, const HandEstimate* b) {
        return *a->computed_over_hand < *b->computed_over_hand;
    });
    const HandEstimate& row = **middle;
    if (row.agrees) return;
    const bool is_softer = *row.computed_over_hand > 1;
    const char* look_first = is_softer ? "a size, a support or a stiffener" : "a size, a load or the wood";
    const char* because =
        is_softer ? "knows nothing of what bends between them" : "leaves out how a plate spreads a load";
    result.warnings.push_back(
        said("Under \"{}\" the computed sag is {} times the {} of the estimate by hand, where {} to {} is "
             "expected. Look first whether {} is not as you meant it: both would then be wrong. If all is as "
             "meant, go by the computed sag: the estimate sees two beams and no plate, and {}.",
             row.situation, number(*row.computed_over_hand, significant(2)), amount(*row.sag_mm, Unit::mm),
             number(least_over_hand, significant(2)), number(most_over_hand, significant(2)), look_first,
             because));
}

} // namespace hollowtop
