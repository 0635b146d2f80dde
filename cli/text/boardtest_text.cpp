// SPDX-License-Identifier: MIT
#include "cli/text/boardtest_text.hpp"

#include "cli/text/page.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

std::string percent(double share) { return fixed(100 * share, 100 * share < 10 ? 1 : 0) + " %"; }
std::string band(double uncertainty) { return "+-" + percent(band_90 * uncertainty); }

std::string between(double value, double uncertainty, Units units) {
    return modulus_text(value * (1 - band_90 * uncertainty), units) + " to " +
           modulus_text(value * (1 + band_90 * uncertainty), units);
}

void put_answer(Page& page, const BoardStory& story, Units units) {
    if (story.together) {
        const Together& all = *story.together;
        page.labelled(
            story.across ? "Across" : "Stiffness",
            modulus_text(all.modulus, units) + (story.across ? " across the grain, " : " along the grain, ") +
                band(all.uncertainty) + ": 90 % band " + between(all.modulus, all.uncertainty, units) +
                ". Free of shear, under load" +
                (story.piece_at    ? ", at " + significant(*story.piece_at, 3) + " % moisture."
                 : story.tested_at ? ", as tested at " + significant(*story.tested_at, 3) + " % moisture."
                                   : ", at the moisture it was tested at."));
        if (!story.across && story.tested_at)
            page.labelled("At 12 %", modulus_text(all.modulus_12, units) +
                                         " (1.5 % a point of moisture, between two published rules "
                                         "of 1 and 2 %: judgement)");
    }
    if (story.density)
        page.labelled("Density", significant(std::round(story.density->value), 5) + " kg/m3, " +
                                     band(story.density->error / story.density->value));
}

void put_worth(Page& page, const BoardStory& story, Units units) {
    if (!story.book || !story.together) return;
    const Gauged& prior = story.across ? story.book->E_across : story.book->E_along;
    const Together& all = *story.together;
    page.labelled("Handbook",
                  "mean of " + story.wood + " " + modulus_text(prior.value, units) +
                      (story.across ? " across the grain, as sawn" : " along the grain") + ", " +
                      band(prior.error / prior.value) + " from board to board (" +
                      in_words(story.book->source, units) + "); this board has " +
                      fixed(100 * (story.across ? all.modulus : all.modulus_12) / prior.value, 0) +
                      " % of it");
    if (story.posterior)
        page.labelled("Worth", "narrows the band from " + band(prior.error / prior.value) + " to " +
                                   band(story.posterior->error / story.posterior->value) +
                                   ": handbook and test together say " +
                                   modulus_text(story.posterior->value, units));
}

void put_tests(Page& page, const BoardStory& story, Units units) {
    if (story.tests.empty()) return;
    page.blank();
    std::vector<Row> rows;
    for (std::size_t i = 0; i < story.tests.size(); ++i) {
        const TestOutcome& test = story.tests[i];
        rows.push_back({{test.name, modulus_text(test.apparent, units), percent(test.shear_share),
                         modulus_text(test.modulus, units), band(test.uncertainty),
                         fixed(100 * story.together->weights[i], 0) + " %"},
                        Tone::plain});
    }
    page.table({{.heading = "test", .shrinks = true},
                {.heading = "plain formula", .to_the_right = true},
                {.heading = "shear", .to_the_right = true},
                {.heading = "stiffness", .to_the_right = true},
                {.heading = "90 %", .to_the_right = true},
                {.heading = "weight", .to_the_right = true}},
               rows);
    for (const TestOutcome& test : story.tests) {
        if (test.line)
            page.labelled(
                "  Bending",
                "at most " + stress_text(test.stress_MPa, units) + "; span " +
                    significant(test.slenderness, 3) + " times the thickness; readings " +
                    reading_text(test.line->scatter_mm, units) + " about their line" +
                    (test.line->counts_down ? "; the gauge counts down, which is allowed for" : "") +
                    (test.plate_share > 0 ? "; " + percent(test.plate_share) +
                                                " taken off for the width, over a third of the span"
                                          : ""));
        if (test.isotropic)
            page.labelled("  Tone", "solved as a free beam with the shear of wood; the factor for isotropic "
                                    "bars (ASTM E1876, from memory) "
                                    "would say " +
                                        modulus_text(*test.isotropic, units));
    }
    if (std::any_of(story.tests.begin(), story.tests.end(),
                    [](const TestOutcome& test) { return test.kind != TestKind::bend; }))
        page.labelled("  Ratio", "stiffness of a tone is divided by 1.10 in bending, 1.175 along, to be that "
                                 "under load, 95 % within 8 % "
                                 "(estimate; +14 and +22 % with shear in it: Hassan, Horacek and Tippner "
                                 "2013, BioResources 8(2):1634)");
}

/// The two tones have errors of their own.
bool is_of(const StatedError& error, const TestOutcome& test) {
    return error.from != ErrorFrom::tone || (error.of == "along") == (test.kind == TestKind::tone_along);
}

void put_errors(Page& page, const BoardStory& story) {
    if (story.tests.empty()) return;
    page.blank();
    page.heading("What it may be out by, one standard deviation of the stiffness");
    std::vector<Column> columns{{.heading = "from"}, {.heading = "reckoned with", .shrinks = true}};
    for (std::size_t i = 0; i < story.tests.size(); ++i)
        columns.push_back(
            {.heading = story.tests.size() == 1 ? "share" : std::to_string(i + 1), .to_the_right = true});
    std::vector<Row> rows;
    for (const StatedError& error : story.errors) {
        Row row{{name_of(error.from), error.size + " (" + error.basis + ")"}, Tone::plain};
        bool any = false;
        for (const TestOutcome& test : story.tests) {
            double squares = 0;
            for (const ErrorPart& part : test.parts)
                if (part.from == error.from && is_of(error, test)) squares += part.share * part.share;
            row.cells.push_back(squares > 0 ? fixed(100 * std::sqrt(squares), 2) + " %" : "");
            any = any || squares > 0;
        }
        if (any) rows.push_back(std::move(row));
    }
    Row sum{{"all", "root of the sum of squares"}, Tone::plain};
    for (const TestOutcome& test : story.tests) sum.cells.push_back(fixed(100 * test.uncertainty, 2) + " %");
    rows.push_back(std::move(sum));
    page.table(columns, rows);
}

} // namespace

std::string modulus_text(double MPa, Units units) {
    if (units == Units::inch) return significant(Pressure::from_MPa(MPa).psi() / 1e6, 3) + " million psi";
    const double step = MPa < 1000 ? 1 : 10;
    return fixed(std::round(MPa / step) * step, 0) + " MPa";
}

std::string boardtest_text(const BoardStory& story, const TextStyle& style) {
    Page page;
    page.paragraph("Board test" +
                   (story.wood.empty() ? std::string() : ", " + story.wood + ", " + story.cut));
    put_answer(page, story, style.units);
    put_worth(page, story, style.units);
    const std::string block = measured_block(story);
    if (!block.empty()) {
        page.blank();
        page.paragraph("Under \"top\" in the piece file:");
        page.paragraph(block, 2);
    }
    if (story.together && !story.across)
        page.paragraph("\"E_along\" is a bending modulus as handbooks have it, with the shear of a test at "
                       "14 depths in it: the "
                       "stiffness above / 1.10 (Wood Handbook Table 5-3, footnote). \"uncertainty\" is one "
                       "standard deviation in percent.");
    if (story.across)
        page.paragraph("No key of the piece file takes a stiffness across the grain: it follows \"E_along\" "
                       "in the wood's proportion. "
                       "Where this one is less than the handbook's by more than its band, choose a softer "
                       "wood or stiffen across the grain.");
    put_tests(page, story, style.units);
    if (!story.warnings.empty() || !story.notes.empty()) page.blank();
    for (const std::string& warning : story.warnings) page.labelled("Warning", warning, Tone::bad);
    for (const std::string& note : story.notes) page.labelled("Note", note);
    put_errors(page, story);
    page.blank();
    page.paragraph("This is one board, not the top: boards differ, knots and split ends are not in it, and "
                   "stiffness says little of "
                   "strength. A calculation for furniture, not a test: load the finished top with known "
                   "weights before it is delivered; "
                   "where a code applies, it and a licensed engineer decide.");
    return page.text(style.coloured);
}

} // namespace hollowtop::cli
