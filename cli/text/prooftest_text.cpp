// SPDX-License-Identifier: MIT
#include "cli/text/prooftest_text.hpp"

#include "cli/text/page.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "solver/shell/loads.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

std::string ratio_text(double ratio) { return fixed(ratio, 2); }

std::string modulus_text(double MPa, Units units) {
    return units == Units::mm ? fixed(MPa, 0) + " MPa" : fixed(Pressure::from_MPa(MPa).psi(), 0) + " psi";
}

void put_before(Page& page, const ProofStory& story, Units units) {
    const ProofPrediction& p = story.prediction;
    page.labelled("Lay on", in_words(p.test.load_name, units) + ": " + force_text(p.test.force_N, units) +
                                " in all, where the drawing has it, as evenly as bags of sand, canisters of "
                                "water or reams of paper allow; weigh one in ten of them");
    page.labelled("Steps",
                  "a tenth of it on and off, gauges to nought; then 25, 50, 75 and 100 %, each held a "
                  "minute and read; then 125 %, the proof load, for 30 to 60 minutes, read after 1, "
                  "15 and 60; off; read after 5 minutes and a day");
    for (std::size_t g = 0; g < p.test.gauges.size(); ++g)
        page.labelled(g == 0 ? "Gauges" : "",
                      gauge_letter(g) + "  " + in_words(p.test.gauges[g].where, units) + ", at x, y " +
                          place_text(p.test.gauges[g].at, units) + " " + place_unit(units));
    page.labelled("", "one more at every support: what it shows is taken off, in proportion");
    page.blank();
    std::vector<Column> columns{{"step"}, {"load", true}};
    for (std::size_t g = 0; g < p.test.gauges.size(); ++g) {
        columns.push_back({gauge_letter(g), true});
        columns.push_back({"9 of 10", true});
        columns.push_back({"stop", true});
    }
    std::vector<Row> rows;
    for (std::size_t s = 0; s < p.test.steps.size(); ++s) {
        const ProofStep& step = p.test.steps[s];
        Row row{{fixed(100 * step.share, 0) + " %", mass_text(step.force_N / standard_gravity, units)},
                Tone::plain};
        const auto bare = [&](double mm) {
            return units == Units::mm ? fixed(mm, 2) : fixed(Length::from_mm(mm).inches(), 3);
        };
        for (std::size_t g = 0; g < step.readings_mm.size(); ++g) {
            row.cells.push_back(bare(step.readings_mm[g]));
            row.cells.push_back(bare(p.bands[s][g].low) + " to " + bare(p.bands[s][g].high));
            row.cells.push_back(bare(stop_reading(p, s, g)));
        }
        rows.push_back(std::move(row));
    }
    page.table(columns, rows);
    page.paragraph(
        std::string(units == Units::mm ? "In mm" : "In inches") +
            ", downward, against the top under its own weight. Left on, the reading grows: times " +
            ratio_text(p.after_hour) + " after an hour, times " + ratio_text(p.after_day) + " after a day.",
        2, Tone::faint);
    page.blank();
    page.labelled("Stop", "and unload at any noise or crack, where a gauge goes on moving under a load that "
                          "stays, or where it passes \"stop\" (half as much again as computed, and more than "
                          "nine of ten tops reach; a proposal of ours)");
    page.labelled("Good",
                  "no crack, no noise, nothing showing through; three quarters of the greatest reading "
                  "gone a day after unloading; readings within the band");
    page.labelled("Safety", "nobody under the top; blocks " + dimension_text(20, units) +
                                " below it; weights lowered, never dropped (common practice)");
}

void put_learned(Page& page, const ProofStory& story, const Learned& learned, Units units) {
    page.heading("What the readings say");
    for (const std::string& note : story.notes) page.bullet(note);
    std::vector<Row> rows;
    for (const GaugeFound& g : learned.gauges)
        rows.push_back(
            {{gauge_letter(g.gauge), std::to_string(g.n_readings), ratio_text(g.read_over_computed),
              ratio_text(g.read_over_computed * (1 - 1.645 * g.error)) + " to " +
                  ratio_text(g.read_over_computed * (1 + 1.645 * g.error))},
             Tone::plain});
    page.table({{"gauge"}, {"readings", true}, {"read / computed", true}, {"9 of 10 within", true}}, rows);
    for (const GaugeFound& g : learned.gauges) {
        constexpr double a_lot = 0.15;
        if (g.bend > a_lot)
            page.bullet("gauge " + gauge_letter(g.gauge) +
                            " grows faster at the last step than at first, by " + fixed(100 * g.bend, 0) +
                            " %: something gives way or lifts; look before more is laid on",
                        Tone::bad);
    }
    constexpr double far = 2.5;
    if (learned.surprise > far)
        page.bullet(
            "that is further off than wood scatters: this is not the top that was drawn. Look for another "
            "cause (the load, a support, a gauge, a glue line) before the numbers below are used",
            Tone::bad);
    page.labelled("Stiffness",
                  ratio_text(learned.stiffness.middle) + " of what was taken, nine in ten between " +
                      ratio_text(learned.stiffness.low) + " and " + ratio_text(learned.stiffness.high));
    std::string boards;
    for (const BoardLearned& b : story.boards)
        boards += (boards.empty() ? "" : "; ") + std::string("board ") + std::to_string(b.first_board + 1) +
                  (b.end_board > b.first_board + 1 ? " to " + std::to_string(b.end_board) : "") + " " +
                  modulus_text(b.after_MPa.middle, units);
    if (!boards.empty()) page.labelled("Boards", boards);
    const bool little = std::any_of(story.checks.begin(), story.checks.end(),
                                    [](const Restated& c) { return c.utilisation_soft > 1; });
    page.labelled(
        "Verdict",
        !story.passes_now ? "With the wood as it is now believed the top does not meet the limits set."
        : little ? "With the wood as it is now believed the top meets the limits set, with little to "
                   "spare: at the soft end of that belief it does not."
                 : "With the wood as it is now believed the top meets the limits set.",
        story.passes_now && !little ? Tone::good : Tone::bad);
    page.blank();
    std::vector<Row> restated;
    constexpr std::size_t most = 8;
    for (std::size_t k = 0; k < std::min(most, story.checks.size()); ++k) {
        const Restated& c = story.checks[k];
        restated.push_back({{c.check, amount_text(c.before, c.unit, units), amount_text(c.now, c.unit, units),
                             amount_text(c.soft, c.unit, units), amount_text(c.limit, c.unit, units),
                             utilisation_text(c.utilisation_now), utilisation_text(c.utilisation_soft)},
                            c.utilisation_soft > 1 ? Tone::bad : Tone::plain});
    }
    page.table({{"check, solved anew"},
                {"as drawn", true},
                {"now", true},
                {"soft end", true},
                {"allowed", true},
                {"used", true},
                {"at soft end", true}},
               restated);
    page.paragraph(
        "Soft end: one in twenty such tops is softer. Other rows than movements are told no lower than as "
        "drawn. A test shows stiffness, and that this load was "
        "borne once; it shows no strength beyond it.",
        2, Tone::faint);
}

} // namespace

std::string prooftest_text(const ProofStory& story, const TextStyle& style) {
    Page page;
    page.heading("Proof test of " + (story.title.empty() ? story.file : story.title) + "  (" + story.file +
                 ")");
    if (!story.passes)
        page.paragraph(
            "As drawn this top does not meet the limits set: change it before anything is laid on it.", 0,
            Tone::bad);
    if (story.learned)
        put_learned(page, story, *story.learned, style.units);
    else
        put_before(page, story, style.units);
    page.blank();
    page.paragraph(
        "A test of furniture, by its maker: where a code or a contract asks for a load test, it and a "
        "licensed engineer say how it is done. The band is of wood, sizes and gauges as they scatter; "
        "faults of the work are not in it.",
        0, Tone::faint);
    return page.text(style.coloured);
}

} // namespace hollowtop::cli
