// SPDX-License-Identifier: MIT
#include "cli/text/second_answers.hpp"

#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "solver/hand/hand_rows.hpp"
#include "solver/hand/solid_equal.hpp"

#include <algorithm>

namespace hollowtop::cli {
namespace {

/// The situation whose sag comes nearest to its limit, among those that an estimate was made of.
const HandEstimate* told_row(const Result& result) {
    const HandEstimate* told = nullptr;
    double most = -1;
    for (std::size_t i = 0; i < std::min(result.by_hand.size(), result.situations.size()); ++i) {
        const SituationResult& s = result.situations[i];
        const double share = s.sag_limit_mm > 0 ? s.sag_mm / s.sag_limit_mm : 0;
        if (!result.by_hand[i].sag_mm || share <= most) continue;
        most = share;
        told = &result.by_hand[i];
    }
    return told;
}

void put_by_hand(Page& page, const Result& result, Units units) {
    if (result.by_hand.empty()) return;
    const HandEstimate* row = told_row(result);
    if (row == nullptr) {
        page.labelled("By hand", "no estimate: " + text_of(result.by_hand.front().why_not), Tone::faint);
        return;
    }
    page.labelled("By hand",
                  "sag of " + movement_text(*row->sag_mm, units) + " in \"" + text_of(row->situation) +
                      "\" by two stepped strips; the check has " + fixed(*row->computed_over_hand, 2) +
                      " times that, where " + fixed(least_over_hand, 2) + " to " + fixed(most_over_hand, 2) +
                      " is expected",
                  row->agrees ? Tone::faint : Tone::bad);
}

void put_solid_equal(Page& page, const Result& result, Units units) {
    if (!result.solid_equal || !result.solid_equal->thickness_mm) return;
    const SolidEqual& solid = *result.solid_equal;
    std::string text =
        "a solid top sags as little at " + dimension_text(*solid.thickness_mm, units) + " thick";
    if (*solid.mass_kg > 0) text += ", and then weighs " + mass_text(*solid.mass_kg, units);
    page.labelled("Solid equal", text + ", in \"" + text_of(solid.situation) + "\"");
}

} // namespace

void put_second_answers(Page& page, const Result& result, Units units) {
    put_by_hand(page, result, units);
    put_solid_equal(page, result, units);
}

} // namespace hollowtop::cli
