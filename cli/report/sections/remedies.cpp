// SPDX-License-Identifier: MIT
// What would make a failing piece meet its limits: the least change of each kind, and of two where none is enough.
#include "cli/report/sections/report_parts.hpp"
#include "cli/text/remedy_words.hpp"
#include "cli/words/format.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

/// A length that must be reached: rounded up to what can be marked out.
std::string reached_text(double mm, Units units) {
    if (units == Units::mm) return dimension_text(std::ceil(10 * mm - 1e-6) / 10, units);
    return dimension_text(Length::from_inches(std::ceil(16 * Length::from_mm(mm).inches() - 1e-6) / 16).mm(),
                          units);
}

const char* change_heading(const Remedy& change) {
    if (change.kind == "skin") return "shallower recesses; thinnest skin left";
    if (change.kind == "rim") return "a wider rim all round; narrowest rim";
    if (change.kind == "land") return "ribs of full thickness across each recess";
    if (change.kind == "screw_length") return "other screws; their length";
    if (change.kind == "thickness") return "a thicker board, its recesses as deep as drawn";
    if (change.kind == "screw_diameter") return "thinner screws";
    if (change.kind == "no_stiffener") return "no stiffeners";
    if (change.kind == "supports_across") return "feet moved across the top; from its long sides";
    if (change.kind == "screw_spacing") return "screws at another spacing";
    if (change.kind == "hold_down") return "the top held down on every support";
    if (change.kind == "pads") return "larger pads and bearers; the largest";
    if (change.kind == "section") return "a larger section for every stiffener";
    if (change.kind == "number") return "more stiffeners, evenly spaced";
    if (change.kind == "supports") return "feet moved along the top; from its ends";
    if (change.kind == "solid") return "a solid top in its place; thickness";
    if (change.kind == "wood") return "another wood";
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

/// `where` is that change's place in the JSON.
FromTo from_to(const Sheet& sheet, const Remedy& change, const std::string& where) {
    const auto key = [&](const char* name) { return where + "/" + name; };
    const Units units = sheet.units();
    if (change.kind == "section") return {words(section_as_drawn(sheet.in.piece)), words(change.section)};
    if (change.kind == "wood") return {words(sheet.in.piece.top.wood), words(change.wood)};
    if (change.kind == "hold_down") return {words("no"), words("yes")};
    if (change.kind == "land" || change.kind == "no_stiffener")
        return {number(change.from, key("from"), fixed(change.from, 0)),
                number(change.to, key("to"), fixed(change.to, 0))};
    if (change.kind == "number")
        return {number(change.from, key("from"), fixed(change.from, 0)),
                number(change.to, key("to"), fixed(change.to, 0)) + words(" of " + change.section)};
    if (change.kind == "loads")
        return {number(change.from, key("from_share"), percent_text(100 * change.from)),
                words("at most ") + number(change.to, key("to_share"), percent_text(100 * change.to))};
    const bool must_reach =
        change.kind == "skin" || change.kind == "rim" || change.kind == "solid" || change.kind == "pads";
    return {number(change.from, key("from_mm"), dimension_text(change.from, units)),
            number(change.to, key("to_mm"),
                   must_reach ? reached_text(change.to, units) : dimension_text(change.to, units))};
}

TableRow remedy_row(const Sheet& sheet, std::size_t i) {
    const Remedy& change = (*sheet.result().remedies)[i];
    const auto key = [&](const char* name) { return at_index("/remedies", i, name); };
    const Markup outcome = change.helps ? words("meets") : element("strong", words("not enough alone"));
    if (!(change.utilisation > 0)) // no piece so changed can be computed
        return {{words(change_heading(change)), {}, {}, outcome, {}, {}, {}}};
    const std::string where = at_index("/remedies", i, "kind"), here = where.substr(0, where.rfind('/'));
    FromTo ends = from_to(sheet, change, here);
    std::string heading = change_heading(change);
    if (!change.also.empty()) {
        const FromTo other = from_to(sheet, change.also.front(), here + "/also");
        heading += std::string("; and ") + change_heading(change.also.front());
        ends.from += words("; ") + other.from;
        ends.to += words("; ") + other.to;
    }
    return {{words(heading), ends.from, ends.to, outcome, massed(sheet, change.mass_kg, key("mass_kg")),
             words(change.governing_check), used(change.utilisation, key("utilisation"))}};
}

/// Those that help first.
std::vector<std::size_t> in_order(const std::vector<Remedy>& all) {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < all.size(); ++i) order.push_back(i);
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return all[a].helps && !all[b].helps; });
    return order;
}

constexpr std::size_t most_in_verdict = 3; ///< the rest stands in the annex

Markup remedies_table(const Sheet& sheet, const char* caption, const std::vector<std::size_t>& order) {
    std::vector<TableRow> rows;
    for (const std::size_t i : order) rows.push_back(remedy_row(sheet, i));
    return table(caption,
                 {{"change"},
                  {"as drawn", true},
                  {"changed to", true},
                  {"limits set"},
                  {"then weighs", true},
                  {"then governs"},
                  {"used", true}},
                 rows);
}

} // namespace

Markup remedies_part(const Sheet& sheet) {
    if (sheet.result().passes) return {};
    const Markup title = element("h3", words("What would make it meet the limits"));
    if (!sheet.in.trials) return title + para(words("Not sought, as was asked for (--quick)."));
    if (!sheet.result().remedies) return title + para(words("Not sought."));
    const std::vector<Remedy>& all = *sheet.result().remedies;
    if (all.empty()) return title + para(words("This piece has nothing of what is varied to find out."));
    std::vector<std::size_t> order = in_order(all);
    const bool is_whole = order.size() <= most_in_verdict;
    if (!is_whole) order.resize(most_in_verdict);
    const Mass& mass = sheet.result().mass;
    Markup first;
    if (sheet.result().solid_too)
        first = para(
            words(solid_too_words(*sheet.result().solid_too, sheet.in.piece.top.thickness, sheet.units()) +
                  ": solid too, " + sheet.result().solid_too->governing_check + " is at ") +
            used(sheet.result().solid_too->utilisation, "/solid_too/utilisation") + words("."));
    const auto n_help = std::count_if(all.begin(), all.end(), [](const Remedy& r) { return r.helps; });
    Markup inner = para(
        words(n_help == 0 ? "None of these changes is enough, by itself or two together. "
                          : "Any one of those that meet the limits is enough: each passed every check. ") +
        words("As drawn the whole weighs ") + massed(sheet, mass.total_kg, "/mass/total_kg") +
        words(", solid ") + massed(sheet, mass.solid_kg, "/mass/solid_kg") + words("."));
    inner += remedies_table(sheet, is_whole ? "What was tried" : "What was tried, the best first", order);
    if (!is_whole)
        inner += para(words(std::to_string(all.size() - order.size()) + " more: ") +
                      section_link(sheet, "changes") + words("."));
    return title + first + inner;
}

Markup tried_part(const Sheet& sheet) {
    if (sheet.result().passes || !sheet.in.trials || !sheet.result().remedies) return {};
    std::vector<std::size_t> order = in_order(*sheet.result().remedies);
    if (order.size() <= most_in_verdict) return {};
    order.erase(order.begin(), order.begin() + most_in_verdict);
    return remedies_table(sheet, "What was tried as well, to make it meet the limits", order);
}

} // namespace hollowtop::cli
