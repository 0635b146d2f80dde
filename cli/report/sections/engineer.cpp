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

/// Of many supports the most and the least that each gives, those that give most first.
Markup greatest_reactions(const Sheet& sheet) {
    const Piece& piece = sheet.in.piece;
    const auto& situations = sheet.result().situations;
    const std::size_t n = piece.supports.size();
    for (const SituationResult& s : situations)
        if (s.reactions.size() != n) return {};
    if (situations.empty()) return {};
    struct Given {
        std::size_t support, most, least; // index of the support, and of the situations
    };
    std::vector<Given> all;
    const auto force = [&](std::size_t situation, std::size_t support) {
        return situations[situation].reactions[support].force_N;
    };
    for (std::size_t k = 0; k < n; ++k) {
        Given given{.support = k, .most = 0, .least = 0};
        for (std::size_t i = 1; i < situations.size(); ++i) {
            if (force(i, k) > force(given.most, k)) given.most = i;
            if (force(i, k) < force(given.least, k)) given.least = i;
        }
        all.push_back(given);
    }
    std::stable_sort(all.begin(), all.end(), [&](const Given& a, const Given& b) {
        return force(a.most, a.support) > force(b.most, b.support);
    });
    constexpr std::size_t most_rows = 10;
    std::vector<TableRow> rows;
    for (std::size_t r = 0; r < std::min(n, most_rows); ++r) {
        const Given& given = all[r];
        const auto cell = [&](std::size_t situation) {
            return amount(sheet, force(situation, given.support), "N",
                          "/situations/" + std::to_string(situation) + "/reactions/" +
                              std::to_string(given.support) + "/force_N") +
                   (situations[situation].reactions[given.support].lifts ? words(" lifts") : Markup{});
        };
        rows.push_back({{words(support_letter(given.support)), cell(given.most),
                         own(text_of(situations[given.most].name)), cell(given.least),
                         own(text_of(situations[given.least].name))}});
    }
    Markup rest;
    if (n > most_rows)
        rest = para(words(std::to_string(n - most_rows) + " more give less at their most: ") +
                    section_link(sheet, "supports") + words("."));
    return table("The most and the least that each support gives, upwards +",
                 {{"support"}, {"most", true}, {"in"}, {"least", true}, {"in"}}, rows,
                 TableKind::short_rows) +
           rest;
}

Markup reactions(const Sheet& sheet) {
    const Result& result = sheet.result();
    constexpr std::size_t most_columns = 6;
    const std::size_t n = sheet.in.piece.supports.size();
    if (n > most_columns) return greatest_reactions(sheet);
    if (n == 0) return {};
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
