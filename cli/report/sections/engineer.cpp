// SPDX-License-Identifier: MIT
// For a reviewing engineer: what is judged, what was taken for granted, which loads act together and what the
// supports give against them, each limit with its factors, and one check written out.
#include "cli/report/drawing/plan_picture.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {

Markup load_caption(const Sheet& sheet) {
    Markup text;
    const Piece& piece = sheet.in.piece;
    for (std::size_t k = 0; k < piece.loads.size(); ++k)
        if (place_of_load(piece.loads[k]))
            text += words((text.empty() ? ". Hatched: " : "; ") + load_letter(k) + " ") +
                    own(piece.loads[k].name);
    if (governing_place(sheet.result()))
        text += words(". Ringed: where \u201c" + sheet.result().governing_check +
                      "\u201d is nearest to its limit");
    return text + words(std::string(".") + (piece.supports.empty() ? "" : " Letters: supports, dashed."));
}

Markup drawn_section(const Sheet& sheet) {
    const Piece& piece = sheet.in.piece;
    Markup inner = piece_facts(sheet);
    inner +=
        figure(words("What is judged, seen from below with the front edge at the top") + load_caption(sheet),
               [&](const std::string& end, double width) {
                   PlanContent content{.dimensions = false, .sections = false};
                   content.loads = true;
                   content.worst = governing_place(sheet.result());
                   return plan_picture("loads" + end, piece, sheet.plan, width, sheet.units(), content);
               });
    return element("section", heading(sheet, "drawn") + inner);
}

Markup assumed_section(const Sheet& sheet) {
    std::vector<Markup> taken;
    for (const Message& a : sheet.result().assumptions) taken.push_back(own(text_of(a)));
    if (sheet.in.seasons)
        for (const Message& a : sheet.in.seasons->assumptions) taken.push_back(own(text_of(a)));
    return element("section", heading(sheet, "assumed") + para(words(method_sentences(sheet.in.piece))) +
                                  bullets(taken));
}

namespace {

std::string load_mark(std::size_t k) { return "L" + std::to_string(k + 1); }

/// The loads of all situations, each once, in the order in which they come.
std::vector<std::string> loads_of(const Sheet& sheet) {
    std::vector<std::string> loads;
    for (const auto& situation : sheet.acting)
        for (const std::string& load : situation)
            if (std::find(loads.begin(), loads.end(), load) == loads.end()) loads.push_back(load);
    return loads;
}

Markup matrix(const Sheet& sheet, const std::vector<std::string>& loads) {
    const Result& result = sheet.result();
    constexpr std::size_t most_columns = 9; // more do not fit on a page
    const bool as_columns = loads.size() <= most_columns;
    std::vector<TableColumn> columns{{"situation"}};
    if (as_columns)
        for (std::size_t k = 0; k < loads.size(); ++k) columns.push_back({load_mark(k)});
    else
        columns.push_back({"loads"});
    for (const char* heading : {"load in all", "supports give", "out of balance"})
        columns.push_back({heading, true});
    std::vector<TableRow> rows;
    for (std::size_t i = 0; i < result.situations.size(); ++i) {
        const SituationResult& s = result.situations[i];
        std::vector<Markup> cells{own(text_of(s.name))};
        std::string list;
        for (std::size_t k = 0; k < loads.size(); ++k) {
            const bool acts =
                std::find(sheet.acting[i].begin(), sheet.acting[i].end(), loads[k]) != sheet.acting[i].end();
            if (as_columns) cells.push_back(words(acts ? "acts" : "\u2013"));
            if (acts) list += (list.empty() ? "" : ", ") + load_mark(k);
        }
        if (!as_columns) cells.push_back(words(list));
        double given = 0;
        for (const Reaction& reaction : s.reactions) given += reaction.force_N;
        cells.push_back(forced(sheet, s.applied_N, at_index("/situations", i, "applied_N")));
        cells.push_back(words(amount_text(given, "N", sheet.units())));
        cells.push_back(number(s.equilibrium_error, at_index("/situations", i, "equilibrium_error"),
                               significant(s.equilibrium_error, 2)));
        rows.push_back({std::move(cells)});
    }
    return table("Which loads act together, and what the supports give against them", columns, rows,
                 TableKind::short_rows);
}

Markup reactions(const Sheet& sheet) {
    const Result& result = sheet.result();
    constexpr std::size_t most_columns = 6;
    const std::size_t n = sheet.in.piece.supports.size();
    if (n == 0 || n > most_columns) return {};
    std::vector<TableColumn> columns{{"situation"}};
    for (std::size_t k = 0; k < n; ++k) columns.push_back({support_letter(k), true});
    std::vector<TableRow> rows;
    for (std::size_t i = 0; i < result.situations.size(); ++i) {
        const auto& all = result.situations[i].reactions;
        if (all.size() != n) return {};
        std::vector<Markup> cells{own(text_of(result.situations[i].name))};
        for (std::size_t k = 0; k < n; ++k)
            cells.push_back(
                amount(sheet, all[k].force_N, "N",
                       "/situations/" + std::to_string(i) + "/reactions/" + std::to_string(k) + "/force_N") +
                (all[k].lifts ? words(" lifts") : Markup{}));
        rows.push_back({std::move(cells)});
    }
    return table("What each support gives, upwards +", columns, rows, TableKind::short_rows);
}

} // namespace

Markup together_section(const Sheet& sheet) {
    const std::vector<std::string> loads = loads_of(sheet);
    Markup inner;
    if (loads.empty())
        inner +=
            para(words("Which loads act in each situation is told by its name; what stays acts in all."));
    Markup legend;
    for (std::size_t k = 0; k < loads.size(); ++k)
        legend += words((k > 0 ? "; " : "") + load_mark(k) + " ") + own(loads[k]);
    inner +=
        para(legend + words(". Each acts once, as listed in ") + section_link(sheet, "asked") +
             words("; what stays acts in every situation, and what passes one at a time on top of it, unless "
                   "the table shows otherwise."));
    inner += matrix(sheet, loads) + reactions(sheet);
    inner += para(words("Out of balance: forces and moments of the loads less what the supports give, as a "
                        "share of the loads."),
                  "soft");
    return element("section", heading(sheet, "together") + inner);
}

// ---- limits and their factors
// -------------------------------------------------------------------------------------

namespace {

/// Checks in the order of the table of those nearest their limits, those with factors alone.
std::vector<std::size_t> reckoned_checks(const Sheet& sheet) {
    std::vector<std::size_t> with;
    for (const std::size_t i : nearest_checks(sheet.result()))
        if (sheet.reckoned[i]) with.push_back(i);
    return with;
}

std::string factor_text(const Factor& factor) {
    return (factor.divides ? "\u00f7 " : "\u00d7 ") + significant(factor.value, 4);
}

Markup factors_table(const Sheet& sheet) {
    const std::vector<std::size_t> checks = reckoned_checks(sheet);
    if (checks.empty()) return {};
    // each reason once, in the order in which they come
    std::vector<std::string> reasons;
    const auto reason_of = [&](const Factor& factor) {
        return factor.why + (factor.source.empty() ? "" : ": " + numbered(factor.source, sheet.works));
    };
    std::vector<TableRow> rows;
    for (const std::size_t i : checks) {
        const Reckoned& way = *sheet.reckoned[i];
        const std::string start =
            way.start + (way.start_source.empty() ? "" : ": " + numbered(way.start_source, sheet.works));
        std::string chain;
        for (const Factor& factor : way.factors) {
            const std::string reason = reason_of(factor);
            auto at = std::find(reasons.begin(), reasons.end(), reason);
            if (at == reasons.end()) at = reasons.insert(reasons.end(), reason);
            chain += (chain.empty() ? "" : " ") + factor_text(factor) + " (" +
                     std::string(1, static_cast<char>('a' + (at - reasons.begin()) % 26)) + ")";
        }
        rows.push_back(
            {{words(sheet.result().checks[i].check), words(start), words(chain), allowed_of(sheet, i)}});
    }
    Markup inner = table("From the published strength to what is allowed",
                         {{"check"}, {"starts from"}, {"factors"}, {"allowed", true}}, rows);
    Markup list;
    for (std::size_t k = 0; k < reasons.size(); ++k) list += element("li", words(reasons[k])) + Markup{"\n"};
    return inner + element("ol", list, {{"class", "letters"}});
}

} // namespace

Markup judged_section(const Sheet& sheet) {
    return element("section",
                   heading(sheet, "judged") + checks_table(sheet) + factors_table(sheet) +
                       para(words("Numbers in square brackets: ") + section_link(sheet, "references") +
                            words(". What every other limit rests on, in words: ") +
                            section_link(sheet, "checks") + words(".")));
}

// ---- one check, line by line
// --------------------------------------------------------------------------------------

namespace {

TableRow line(const std::string& what, const Markup& value) { return {{words(what), value}}; }

/// What was found against what is allowed: the last two lines of each.
void put_end(const Sheet& sheet, std::size_t i, std::vector<TableRow>& rows) {
    const CheckResult& c = sheet.result().checks[i];
    rows.push_back(line("found", found_of(sheet, i)));
    rows.push_back(line("found \u00f7 allowed", used(c.utilisation, at_index("/checks", i, "utilisation")) +
                                                    words(c.utilisation > 1 ? ", over the limit" : "")));
}

} // namespace

Markup written_section(const Sheet& sheet) {
    const Result& result = sheet.result();
    const auto governing = governing_index(result);
    std::optional<std::size_t> chosen;
    if (governing && sheet.reckoned[*governing]) chosen = governing;
    if (!chosen) {
        const std::vector<std::size_t> with = reckoned_checks(sheet);
        if (!with.empty()) chosen = with.front();
    }
    std::vector<TableRow> rows;
    Markup inner, strength, sag;
    if (chosen) {
        const CheckResult& c = result.checks[*chosen];
        const Reckoned& way = *sheet.reckoned[*chosen];
        rows.push_back(
            line(way.start +
                     (way.start_source.empty() ? "" : " (" + numbered(way.start_source, sheet.works) + ")"),
                 words(amount_text(way.start_value, "MPa", sheet.units()))));
        double so_far = way.start_value;
        for (const Factor& factor : way.factors) {
            so_far *= factor.divides ? 1 / factor.value : factor.value;
            rows.push_back(
                line(factor_text(factor) + " " + factor.why +
                         (factor.source.empty() ? "" : " (" + numbered(factor.source, sheet.works) + ")"),
                     words(amount_text(so_far, "MPa", sheet.units()))));
        }
        rows.push_back({{words("allowed"), allowed_of(sheet, *chosen)}, "total"});
        put_end(sheet, *chosen, rows);
        strength = para(words(chosen == governing ? "The check that governs: "
                                                  : "Of the checks of strength the nearest to its limit: ") +
                        words(c.check) + words(" in \u201c") + own(text_of(c.situation)) + words("\u201d."));
        strength += table("Line by line", {{"line"}, {"comes to", true}}, rows, TableKind::long_rows);
    }
    // the sag, from its span
    std::optional<std::size_t> deepest;
    for (std::size_t i = 0; i < result.situations.size(); ++i) {
        const SituationResult& s = result.situations[i];
        if (!(s.sag_limit_mm > 0) || !(s.span_mm > 0)) continue;
        if (!deepest || s.sag_mm / s.sag_limit_mm >
                            result.situations[*deepest].sag_mm / result.situations[*deepest].sag_limit_mm)
            deepest = i;
    }
    if (deepest) {
        const SituationResult& s = result.situations[*deepest];
        const auto key = [&](const char* name) { return at_index("/situations", *deepest, name); };
        std::vector<TableRow> lines;
        lines.push_back(line(s.overhang_governs ? "twice the overhang" : "span",
                             words(dimension_text(s.span_mm, sheet.units()))));
        lines.push_back(
            line("span \u00f7 allowed: the divisor", words(fixed(s.span_mm / s.sag_limit_mm, 0))));
        lines.push_back(
            {{words("allowed"), moved_finely(sheet, s.sag_limit_mm, key("sag_limit_mm"))}, "total"});
        lines.push_back(line("found", moved_finely(sheet, s.sag_mm, key("sag_mm"))));
        if (*deepest < result.by_hand.size() && result.by_hand[*deepest].sag_mm)
            lines.push_back(line("the same by hand, another theory",
                                 moved_finely(sheet, *result.by_hand[*deepest].sag_mm,
                                              at_index("/by_hand/rows", *deepest, "sag_mm"))));
        lines.push_back(line("found \u00f7 allowed", words(utilisation_text(s.sag_mm / s.sag_limit_mm))));
        sag = para(words("The sag that comes nearest to its limit: \u201c") + own(text_of(s.name)) +
                   words("\u201d."));
        sag += table("The sag, line by line", {{"line"}, {"comes to", true}}, lines, TableKind::long_rows);
    }
    for (const Markup& one : {strength, sag})
        if (!one.empty()) inner += element("div", one);
    if (!inner.empty()) inner = element("div", inner, {{"class", "pair"}});
    if (inner.empty()) inner = para(words("No check of this piece has a capacity made of factors."));
    return element("section", heading(sheet, "written") + inner);
}

Markup references_section(const Sheet& sheet) {
    Markup items;
    bool leans = false;
    for (const Work& work : sheet.works) {
        leans = leans || work.from_memory;
        items +=
            element("li", words(std::string(work.full) + (work.from_memory ? " \u2020" : ""))) + Markup{"\n"};
    }
    Markup inner = element("ol", items, {{"class", "works"}});
    if (leans)
        inner += para(
            words("\u2020 Leaned on from memory in one sentence or more: not read again in full. Where a "
                  "sentence says \u201cfrom memory\u201d, that holds for the place it names."),
            "soft");
    return element("section", heading(sheet, "references") + inner);
}

} // namespace hollowtop::cli
