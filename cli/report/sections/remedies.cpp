// SPDX-License-Identifier: MIT
// What would make a failing piece meet its limits: the least change of each kind, each by itself.
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

/// A length that must be reached: rounded up to what can be marked out.
std::string at_least_text(double mm, Units units) {
    if (units == Units::mm) return dimension_text(std::ceil(10 * mm - 1e-6) / 10, units);
    return dimension_text(Length::from_inches(std::ceil(16 * Length::from_mm(mm).inches() - 1e-6) / 16).mm(),
                          units);
}

const char* kind_words(const Remedy& change) {
    if (change.kind == "skin") return "shallower recesses; thinnest skin left";
    if (change.kind == "rim") return "a wider rim all round; narrowest rim";
    if (change.kind == "section") return "a larger section for every stiffener";
    if (change.kind == "number") return "more stiffeners, evenly spaced";
    if (change.kind == "supports") return "feet moved along the top; from its ends";
    return "lighter loads; share of those asked for";
}

/// The section of all stiffeners as drawn, where it is one.
std::string section_as_drawn(const Piece& piece) {
    std::string section;
    for (const Stiffener& s : piece.stiffeners) {
        if (!section.empty() && section != s.section) return "several";
        section = s.section;
    }
    return section;
}

struct FromTo {
    Markup from, to;
};

FromTo from_to(const Sheet& sheet, const Remedy& change, std::size_t i) {
    const auto key = [&](const char* name) { return at_index("/remedies", i, name); };
    const Units units = sheet.units();
    if (change.kind == "section") return {words(section_as_drawn(sheet.in.piece)), words(change.section)};
    if (change.kind == "number")
        return {number(change.from, key("from"), fixed(change.from, 0)),
                number(change.to, key("to"), fixed(change.to, 0)) + words(" of " + change.section)};
    if (change.kind == "loads")
        return {number(change.from, key("from_share"), percent_text(100 * change.from)),
                words("at most ") + number(change.to, key("to_share"), percent_text(100 * change.to))};
    const bool must_reach = change.kind == "skin" || change.kind == "rim";
    return {number(change.from, key("from_mm"), dimension_text(change.from, units)),
            number(change.to, key("to_mm"),
                   must_reach ? at_least_text(change.to, units) : dimension_text(change.to, units))};
}

TableRow remedy_row(const Sheet& sheet, std::size_t i) {
    const Remedy& change = (*sheet.result().remedies)[i];
    const auto key = [&](const char* name) { return at_index("/remedies", i, name); };
    const Markup outcome = change.helps ? words("meets") : element("strong", words("not enough alone"));
    if (!(change.utilisation > 0)) // no piece so changed can be computed
        return {{words(kind_words(change)), {}, {}, outcome, {}, {}, {}}};
    const FromTo both = from_to(sheet, change, i);
    return {{words(kind_words(change)), both.from, both.to, outcome,
             massed(sheet, change.mass_kg, key("mass_kg")), words(change.governing_check),
             used(change.utilisation, key("utilisation"))}};
}

} // namespace

Markup remedies_part(const Sheet& sheet) {
    if (sheet.result().passes) return {};
    const Markup title = element("h3", words("What would make it meet the limits"));
    if (!sheet.in.trials) return title + para(words("Not sought, as was asked for (--quick)."));
    if (!sheet.result().remedies)
        return title + para(words("Not sought: one check of this piece is so large that trying dozens of "
                                  "changes would take many minutes."));
    const std::vector<Remedy>& all = *sheet.result().remedies;
    if (all.empty()) return title + para(words("This piece has nothing of what is varied to find out."));
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < all.size(); ++i) order.push_back(i);
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return all[a].helps && !all[b].helps; });
    std::vector<TableRow> rows;
    for (const std::size_t i : order) rows.push_back(remedy_row(sheet, i));
    const Mass& mass = sheet.result().mass;
    const auto n_help = std::count_if(all.begin(), all.end(), [](const Remedy& r) { return r.helps; });
    Markup inner = para(
        words(
            n_help == 0
                ? "None of these changes is enough by itself; two together may be. Each was checked in full. "
                : "Any one of those that meet the limits is enough by itself: each is the least of its kind, "
                  "and "
                  "was checked in full. ") +
        words("As drawn the whole weighs ") + massed(sheet, mass.total_kg, "/mass/total_kg") +
        words(", solid ") + massed(sheet, mass.solid_kg, "/mass/solid_kg") + words("."));
    inner += table("One change at a time",
                   {{"change"},
                    {"as drawn", true},
                    {"changed to", true},
                    {"limits set"},
                    {"then weighs", true},
                    {"then governs"},
                    {"used", true}},
                   rows);
    return title + inner;
}

} // namespace hollowtop::cli
