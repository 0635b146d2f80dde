// SPDX-License-Identifier: MIT
#include "cli/text/kept_text.hpp"

#include "cli/words/format.hpp"
#include "cli/words/said.hpp"

#include <algorithm>

namespace hollowtop::cli {
namespace {

double used(const KeptResult::Way& way) {
    return way.there_mm > 0 ? way.needed_mm / way.there_mm : 1e9 + way.needed_mm;
}

} // namespace

std::string kept_sizes(const KeptResult& kept, Units units) {
    return dimension_text(kept.size_x, units) + " by " + dimension_text(kept.size_y, units) + ", " +
           dimension_text(kept.height, units) + " high";
}

const char* hangs_words(const KeptResult& kept) {
    if (kept.hangs == "skin") return "hangs under the skin";
    if (kept.hangs == "runners") return "hangs on runners along two walls";
    return "lies on the base";
}

std::string kept_room(const KeptResult& kept, Units units) {
    if (kept.ways.empty()) return "";
    const auto tightest = std::max_element(kept.ways.begin(), kept.ways.end(),
                                           [](const auto& a, const auto& b) { return used(a) < used(b); });
    return "needs " + dimension_text(tightest->needed_mm, units) + " of " +
           dimension_text(std::max(tightest->there_mm, 0.0), units) +
           (tightest->way == "height" ? " in height" : " along " + tightest->way);
}

std::vector<std::string> cover_sentences(const CoverResult& cover, Units units) {
    std::vector<std::string> told;
    std::string what = "Cover " + dimension_text(cover.thickness_mm, units) + " thick, " +
                       mass_text(cover.mass_kg, units) + (cover.trim.empty() ? "" : " with its trim") +
                       ", flush with the underside in the mouth of the recess: " + text_of(cover.material) +
                       ".";
    told.push_back(std::move(what));
    if (!cover.trim.empty())
        told.push_back("Its trim, \"" + cover.trim + "\", of the top's wood, hangs " +
                       dimension_text(cover.trim_below_mm, units) +
                       " below the underside: see that no support or apron meets it.");
    if (cover.sag_mm)
        told.push_back("It sags by " + movement_text(*cover.sag_mm, units) + " of " +
                       movement_text(*cover.sag_limit_mm, units) + " allowed.");
    if (cover.gap_mm && *cover.gap_mm > 0.05)
        told.push_back("Leave " + movement_text(*cover.gap_mm, units) +
                       " or more beside it across the grain, both sides together: the recess grows so much "
                       "narrower in the dry season.");
    if (cover.moves_mm) {
        std::string text =
            "At its outermost screws the top moves " + movement_text(*cover.moves_mm, units) + " each way";
        if (cover.play_mm)
            text += "; their holes let " + movement_text(*cover.play_mm, units) + " pass.";
        else
            text += ": slots across the grain of the top, longer than the screw by that and " +
                    movement_text(1, units) + " each way.";
        told.push_back(std::move(text));
    }
    std::string not_judged;
    for (const Message& what_not : cover.not_judged)
        not_judged += (not_judged.empty() ? "" : "; ") + text_of(what_not);
    if (!not_judged.empty()) told.push_back("Not judged: " + not_judged + ".");
    return told;
}

void put_in_recesses(Page& page, const Result& result, Units units) {
    if (result.in_recesses.empty()) return;
    page.blank();
    page.heading("In the recess: what it holds, with the clearances, the years and the seasons");
    for (const InRecess& recess : result.in_recesses) {
        for (const KeptResult& kept : recess.holds) {
            std::string text = "\"" + kept.name + "\" in " + recess.recess + ": " + kept_sizes(kept, units);
            if (kept.weight_N > 0) text += ", " + force_text(kept.weight_N, units);
            text += ", " + std::string(hangs_words(kept)) + "; " + kept_room(kept, units) +
                    "; the top comes down on it by " + movement_text(kept.sinks_mm, units);
            page.bullet(text);
        }
        if (!recess.cover) continue;
        std::string text = recess.recess + ":";
        for (const std::string& sentence : cover_sentences(*recess.cover, units)) text += " " + sentence;
        page.bullet(text);
    }
}

} // namespace hollowtop::cli
