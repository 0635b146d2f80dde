// SPDX-License-Identifier: MIT
// Second answers beside the computed sag: by hand, the solid top that sags as little, and year by year.
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "solver/hand/hand_rows.hpp"

#include <algorithm>

namespace hollowtop::cli {
namespace {

bool any_by_hand(const Result& result) {
    return std::any_of(result.by_hand.begin(), result.by_hand.end(),
                       [](const HandEstimate& h) { return h.sag_mm.has_value(); });
}

} // namespace

Markup by_hand_cell(const Sheet& sheet, std::size_t situation) {
    const auto& rows = sheet.result().by_hand;
    if (situation >= rows.size() || !rows[situation].sag_mm) return {};
    return moved(sheet, *rows[situation].sag_mm, at_index("/by_hand/rows", situation, "sag_mm")) +
           (rows[situation].agrees ? Markup{} : element("strong", words(" apart"), {{"class", "over"}}));
}

Markup by_hand_part(const Sheet& sheet) {
    const Result& result = sheet.result();
    if (result.by_hand.empty()) return {};
    const Markup title = element("h3", words("The sag by hand"));
    if (!any_by_hand(result))
        return title +
               para(words("No estimate by hand was made: " + text_of(result.by_hand.front().why_not) + "."));
    std::vector<TableRow> rows;
    bool apart = false;
    for (std::size_t i = 0; i < std::min(result.by_hand.size(), result.situations.size()); ++i) {
        const HandEstimate& h = result.by_hand[i];
        const auto key = [&](const char* name) { return at_index("/by_hand/rows", i, name); };
        const Markup computed =
            moved_finely(sheet, result.situations[i].sag_mm, at_index("/situations", i, "sag_mm"));
        if (!h.sag_mm) {
            rows.push_back(
                {{own(text_of(h.situation)), computed, {}, {}, words("no estimate: " + text_of(h.why_not))}});
            continue;
        }
        apart = apart || !h.agrees;
        rows.push_back(
            {{own(text_of(h.situation)), computed, moved_finely(sheet, *h.sag_mm, key("sag_mm")),
              h.computed_over_hand
                  ? number(*h.computed_over_hand, key("computed_over_hand"), fixed(*h.computed_over_hand, 2))
                  : Markup{},
              h.agrees ? words("as expected") : element("strong", words("further apart than expected"))},
             h.agrees ? "" : "over"});
    }
    const Markup spread =
        number(least_over_hand, "/by_hand/computed_over_hand_at_least", fixed(least_over_hand, 2)) +
        words(" to ") +
        number(most_over_hand, "/by_hand/computed_over_hand_at_most", fixed(most_over_hand, 2));
    Markup inner = para(
        words("Another theory beside the computed sag: two stepped strips with the section of rim and skin, "
              "one along the top between the rows of supports and one across it, what a stiffener adds by "
              "its share of composite action (Newmark). No plate is solved, so the two should not be "
              "equal: the computed sag is expected to be ") +
        spread + words(" times the sag by hand."));
    inner += table(
        "Sag computed and by hand",
        {{"situation"}, {"computed", true}, {"by hand", true}, {"computed / by hand", true}, {"so"}}, rows);
    if (apart)
        inner += para(
            words("Where the two lie further apart than expected, rest nothing on this sag before it is "
                  "understood why: check the input, try a finer mesh, load an offcut or the top itself."),
            "warn");
    return title + inner;
}

Markup solid_equal_part(const Sheet& sheet) {
    const auto& solid = sheet.result().solid_equal;
    if (!solid) return {};
    const auto key = [](const char* name) { return "/solid_equal/" + std::string(name); };
    const Markup start = words("The solid equal: in \u201c") + own(text_of(solid->situation)) +
                         words("\u201d this top sags by ") +
                         moved_finely(sheet, solid->sag_mm, key("sag_mm"));
    if (!solid->thickness_mm)
        return para(start +
                    words("; no solid top that sags as little was found: " + text_of(solid->why_not) + "."));
    Markup inner =
        start +
        words(". A solid top of the same wood and outline, on the same supports, sags as little at ") +
        number(*solid->thickness_mm, key("thickness_mm"),
               dimension_text(*solid->thickness_mm, sheet.units())) +
        words(" thick");
    const Mass& mass = sheet.result().mass;
    if (solid->mass_kg && *solid->mass_kg > 0) {
        inner += words(" and weighs ") + massed(sheet, *solid->mass_kg, key("mass_kg")) +
                 words("; this one, ") + massed(sheet, mass.total_kg, "/mass/total_kg") + words(".");
        if (mass.total_kg > *solid->mass_kg)
            inner += words(" For its stiffness a thinner solid top would be the lighter one.");
    } else
        inner += words(".");
    return para(inner);
}

Markup years_part(const Sheet& sheet) {
    const Result& result = sheet.result();
    if (result.sag_in_time.empty()) return {};
    std::vector<TableRow> rows;
    for (std::size_t i = 0; i < result.sag_in_time.size(); ++i) {
        const auto key = [&](const char* name) { return at_index("/sag_in_time/rows", i, name); };
        const SagInTime& row = result.sag_in_time[i];
        const Markup years = number(row.years, key("years"), fixed(row.years, 0));
        rows.push_back(
            {{row.years > 0 ? years + words(row.years == 1 ? " year" : " years") : words("at once"),
              moved_finely(sheet, row.sag_mm, key("sag_mm"))}});
    }
    return table("Sag as the years go by", {{"under what stays, after"}, {"sag", true}}, rows) +
           para(words("Of these, " + text_of(result.sag_in_time_basis) + "."), "soft");
}

} // namespace hollowtop::cli
