// SPDX-License-Identifier: MIT
#include "solver/hand/hand_rows.hpp"

#include "materials/digits.hpp"
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
    using materials::digits;
    for (const HandEstimate& row : result.by_hand)
        if (!row.agrees)
            result.warnings.push_back(
                said("Under \"{}\" the computed sag is {} times the {} of the estimate by hand, where {} to "
                     "{} is expected: look over the drawing, and trust neither before you know why.",
                     row.situation, number(*row.computed_over_hand), amount(*row.sag_mm, Unit::mm),
                     number(least_over_hand), number(most_over_hand)));
}

} // namespace hollowtop
