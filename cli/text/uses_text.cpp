// SPDX-License-Identifier: MIT
#include "cli/text/uses_text.hpp"

#include "cli/words/format.hpp"
#include "cli/words/said.hpp"

#include <vector>

namespace hollowtop::cli {

using materials::Use;
using materials::UseLoad;

const char* const what_a_use_is = "A use is a set of loads to reckon with. That a top meets the limits set "
                                  "under them says nothing of any standard: "
                                  "a standard is met, or not, by a test of the finished piece.";

namespace {

std::string amount(const UseLoad& load, Units units) {
    switch (load.kind) {
    case UseLoad::Kind::area: {
        constexpr double square_inches_a_square_foot = 144;
        if (units == Units::mm) return significant(load.value, 4) + " kPa";
        return significant(Pressure::from_MPa(load.value / 1000).psi() * square_inches_a_square_foot, 3) +
               " psf";
    }
    case UseLoad::Kind::patch:
        return force_text(load.value, units);
    case UseLoad::Kind::line:
        if (units == Units::mm) return force_text(load.value, units) + " a metre";
        return force_text(load.value * Length::from_inches(12).mm() / 1000, units) + " a foot";
    }
    return {};
}

std::string place(const UseLoad& load, Units units) {
    std::string text;
    if (load.kind == UseLoad::Kind::patch)
        text = "on " + dimension_text(load.size_x, units) + " x " + dimension_text(load.size_y, units) + ", ";
    switch (load.where) {
    case UseLoad::Where::everywhere:
        return text + "everywhere";
    case UseLoad::Where::middle:
        return text + "in the middle";
    case UseLoad::Where::along_the_middle:
        return text + "along the middle";
    case UseLoad::Where::worst:
        return text + "where it is worst";
    case UseLoad::Where::edge:
        return text + "where it is worst, " + dimension_text(materials::edge_place_mm, units) +
               " inside the edge";
    }
    return text;
}

std::string limits(const Use& use, Units units) {
    const std::string sag = "sag span/" + significant(use.sag_divisor, 4) + " at once, span/" +
                            significant(use.sag_years_divisor, 4) + " after the years";
    if (!use.flatness || !use.flatness_years) return sag + "; flatness none";
    const auto small = [&](double mm) {
        return units == Units::mm ? significant(mm, 2) + " mm"
                                  : significant(Length::from_mm(mm).inches(), 2) + " in";
    };
    return sag + "; flatness " + small(*use.flatness) + " at once, " + small(*use.flatness_years) +
           " after the years";
}

const char* const what_is_judged =
    "Everyday loads are judged for everything. Strength loads, the forces of tests and of rare moments, are "
    "judged for stresses and screws; how far the top gives under them and how hard it is pressed is told, "
    "not "
    "limited. Stability loads are judged for tipping and lifting off alone, and a top that is held down tips "
    "under none.";

Message sourced(const Message& source, const std::string& status) { return said("{} ({})", source, status); }

std::string joined(const std::vector<std::string>& words) {
    std::string text;
    for (const std::string& word : words) text += (text.empty() ? "" : ", ") + word;
    return text;
}

} // namespace

void put_uses(Page& page, Units units) {
    page.heading("Uses: the loads and limits that \"use\" in a piece file brings");
    std::vector<Row> rows;
    for (const Use& use : materials::uses())
        rows.push_back(
            {{use.id, use.name, std::to_string(use.loads.size()), limits(use, units)}, Tone::plain});
    page.table({{.heading = "use"},
                {.heading = "", .shrinks = true},
                {.heading = "loads", .to_the_right = true},
                {.heading = "limits where none are stated", .shrinks = true}},
               rows);
    page.blank();
    page.paragraph(what_a_use_is);
}

void put_use(Page& page, const Use& use, Units units) {
    page.heading(use.name + ", \"" + use.id + "\"");
    std::vector<Row> rows;
    for (const UseLoad& load : use.loads)
        rows.push_back({{load.name, amount(load, units), place(load, units), to_word(load.duration),
                         to_words(load.judged_for)},
                        Tone::plain});
    page.table({{.heading = "load", .shrinks = true},
                {.heading = ""},
                {.heading = "where", .shrinks = true},
                {.heading = "how long"},
                {.heading = "for"}},
               rows);
    page.blank();
    page.paragraph(what_is_judged);
    page.blank();
    page.labelled("limits", limits(use, units) + ", where the piece states none; " +
                                in_own_units(sourced(use.source, use.status)));
    if (!use.also.empty()) page.labelled("also", joined(use.also));
    if (!use.note.empty()) page.labelled("note", in_words(use.note, units));
    page.blank();
    page.heading("Where the loads come from");
    for (const UseLoad& load : use.loads)
        page.bullet(load.name + ": " + in_words(sourced(load.source, load.status), units));
    page.blank();
    page.paragraph(what_a_use_is);
}

std::string uses_document() {
    std::string text =
        "# Uses\n\nMade from materials/data/uses.csv and use_loads.csv; a test compares.\n\n"
        "`\"use\": \"dining\"` in a piece file adds these loads after the piece's own, and the limits where "
        "the piece "
        "states none.\n" +
        std::string(what_is_judged) + "\n" + what_a_use_is +
        "\nThe words in brackets say how well a source is known: checked (read in the source), partly "
        "checked (read where "
        "another text\nquotes it), from memory, common practice, judgement (an estimate of our own).\n";
    for (const Use& use : materials::uses()) {
        text += "\n## " + use.id + ": " + use.name + "\n\n";
        if (!use.also.empty()) text += "Also: " + joined(use.also) + ".\n\n";
        text +=
            "| load | how much | where | how long | for | source |\n| --- | --- | --- | --- | --- | --- |\n";
        for (const UseLoad& load : use.loads)
            text += "| " + load.name + " | " + amount(load, Units::mm) + " | " + place(load, Units::mm) +
                    " | " + to_word(load.duration) + " | " + to_words(load.judged_for) + " | " +
                    in_own_units(sourced(load.source, load.status)) + " |\n";
        text += "\nLimits: " + limits(use, Units::mm) + "; " + in_own_units(sourced(use.source, use.status)) +
                ".\n";
        if (!use.note.empty()) text += "Note: " + in_own_units(use.note) + ".\n";
    }
    return text;
}

} // namespace hollowtop::cli
