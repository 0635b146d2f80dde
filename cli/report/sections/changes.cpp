// SPDX-License-Identifier: MIT
// The piece checked again with one thing otherwise: what changes the verdict first, and the band of the sag.
#include "cli/json/result_json.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

std::string change_words(const ChangeRow& row, Units units) {
    const std::string length = units == Units::mm ? dimension_text(row.step, units)
                                                  : fixed(Length::from_mm(row.step).inches(), 2) + " in";
    const std::string share = fixed(100 * row.step, 0) + " %";
    switch (row.kind) {
    case Changed::thinner:
        return "the board " + length + " thinner, recesses as deep as drawn";
    case Changed::deeper:
        return "every recess " + length + " deeper";
    case Changed::softer:
        return "the wood " + share + " softer";
    case Changed::stiffer:
        return "the wood " + share + " stiffer";
    case Changed::heavier:
        return "every load " + share + " heavier";
    case Changed::supports_out:
        return "supports " + length + " further out at each end";
    case Changed::supports_in:
        return "supports " + length + " further in at each end";
    case Changed::screw_loose:
        return "one screw loose: the hardest worked";
    case Changed::stiffeners_loose:
        return "every stiffener loose, as if it were not there";
    }
    return {};
}

std::string key(std::size_t i, const char* name) { return at_index("/trials/changes", i, name); }

/// Rounded down: the limit is not reached later than is said.
Markup limit_reached(const Sheet& sheet, const ChangeRow& row, std::size_t i) {
    const std::optional<double> at = limit_at(row);
    if (!row.row || !at) return {};
    const double value = *at;
    std::string shown;
    if (is_share(row.kind))
        shown = fixed(std::floor(100 * value + 1e-9), 0) + " %";
    else if (sheet.units() == Units::mm)
        shown = fixed(std::floor(10 * value + 1e-9) / 10, 1) + " mm";
    else
        shown = fixed(std::floor(100 * Length::from_mm(value).inches() + 1e-9) / 100, 2) + " in";
    return words("about ") + number(value, key(i, "limit_at"), shown);
}

Markup verdict_words(bool passes) {
    return passes ? words("meets") : element("strong", words("does not meet"));
}

Markup first_words(const Sheet& sheet, const Trials& trials) {
    std::vector<std::string> turning;
    for (const ChangeRow& row : trials.changes)
        if (row.row && row.row->passes != trials.base.passes)
            turning.push_back(change_words(row, sheet.units()));
    if (turning.empty())
        return words(trials.base.passes ? "None of these alone turns the verdict."
                                        : "None of these alone makes it meet the limits.");
    std::string list;
    for (const std::string& change : turning) list += (list.empty() ? "" : "; ") + change;
    return words((trials.base.passes ? "Any one of these alone turns the verdict: "
                                     : "It would meet the limits with any one of these: ") +
                 list + ".");
}

} // namespace

Markup band_words(const Sheet& sheet) {
    if (!sheet.in.trials || !sheet.in.trials->band) return {};
    const auto& band = sheet.in.trials->band;
    const auto fine = [&](double mm, const char* pointer) {
        return number(mm, pointer, reading_text(mm, sheet.units()));
    };
    return words("The greatest sag at once, ") + fine(band->drawn_mm, "/trials/sag_band/drawn_mm") +
           words(", lies between ") + fine(band->low_mm, "/trials/sag_band/low_mm") + words(" and ") +
           fine(band->high_mm, "/trials/sag_band/high_mm") +
           words(", were the wood a fifth stiffer or softer than reckoned with, the error of the computation "
                 "included");
}

Markup changes_section(const Sheet& sheet) {
    if (!sheet.in.trials)
        return element("section",
                       heading(sheet, "changes") + para(words("Left out, as was asked for (--quick).")));
    const Trials& trials = *sheet.in.trials;
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < trials.changes.size(); ++i) order.push_back(i);
    const auto use = [&](std::size_t i) {
        return trials.changes[i].row ? trials.changes[i].row->utilisation : -1.0;
    };
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        const auto fails = [&](std::size_t i) {
            return trials.changes[i].row && !trials.changes[i].row->passes;
        };
        if (fails(a) != fails(b)) return fails(a);
        return use(a) > use(b);
    });
    const auto cells = [&](const Markup& what, const StudyRow& row, const std::string& pointer) {
        return std::vector<Markup>{
            what, used(row.utilisation, pointer + "/governing/utilisation"), words(row.governing_check),
            number(row.sag_mm, pointer + "/sag_mm", reading_text(row.sag_mm, sheet.units())),
            verdict_words(row.passes)};
    };
    std::vector<TableRow> rows;
    rows.push_back({cells(words("as drawn"), trials.base, "/trials/as_drawn"), "total"});
    rows.back().cells.push_back({});
    for (const std::size_t i : order) {
        const ChangeRow& change = trials.changes[i];
        Markup what = words(change_words(change, sheet.units()));
        if (change.at)
            what += words(", of \u201c") + own(change.part) + words("\u201d at ") +
                    placed_in_words(sheet, *change.at, key(i, "at_mm"));
        if (!change.row) {
            rows.push_back({{what, {}, words("cannot be: ") + own(text_of(change.problem)), {}, {}, {}}});
            continue;
        }
        if (change.in_full) what += words(" *");
        rows.push_back({cells(what, *change.row, at_index("/trials/changes", i, "result")),
                        change.row->passes ? "" : "over"});
        rows.back().cells.push_back(limit_reached(sheet, change, i));
    }
    Markup inner = para(words("Each line is this piece with one thing otherwise than drawn; those that use "
                              "it hardest stand first. The check as drawn is carried on by the ratio of two "
                              "solves on a coarser mesh; what comes within " +
                              percent_text(100 * near_limit) +
                              " of a limit so, and what changes much, was checked in full (marked *). "
                              "Loads that travel stay where they are worst as drawn. The last "
                              "column is an estimate, by the "
                              "straight line through both: how far that one thing may go until a limit is "
                              "reached; empty where it does not bring one nearer, not within twenty such "
                              "steps, or only with wood of no stiffness at all."));
    inner += para(first_words(sheet, trials), "lead");
    inner += table("One thing otherwise",
                   {{"what"},
                    {"used", true},
                    {"by which check"},
                    {"sag at once", true},
                    {"limits set"},
                    {"limit reached at", true}},
                   rows);
    inner += tried_part(sheet);
    return element("section", heading(sheet, "changes") + inner);
}

} // namespace hollowtop::cli
