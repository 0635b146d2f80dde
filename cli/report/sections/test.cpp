// SPDX-License-Identifier: MIT
// The record of a proof test: what to lay on, what the gauges should read by this computation, and room for
// what they did read.
#include "cli/report/drawing/plan_picture.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"

namespace hollowtop::cli {
namespace {

Markup blank_cell() { return element("span", words("\u00a0"), {{"class", "write"}}); }

/// No support's letter.
std::string gauge_letter(std::size_t i) { return "T" + std::to_string(i + 1); }

/// A slope in mm per 100 N, or inches per 100 lbf.
std::string slope_text(double mm_per_100_N, Units units) {
    if (units == Units::mm) return fixed(mm_per_100_N, 3) + " mm";
    return fixed(Length::from_mm(mm_per_100_N).inches() / Force::from_N(1).lbf(), 4) + " in";
}

/// What a gauge should read, and between what nine of ten such tops lie.
Markup reading_cell(const Sheet& sheet, double reading_mm, const std::string& pointer, std::size_t step,
                    std::size_t gauge) {
    const std::string index = "/" + std::to_string(gauge);
    const auto text = [&](double mm) { return reading_text(mm, sheet.units()); };
    Markup cell = number(reading_mm, pointer + "/readings_mm" + index, text(reading_mm));
    const std::vector<std::vector<Band>>& bands = sheet.in.trials->proof_bands;
    if (bands.empty()) return cell;
    const Band& band = bands[step][gauge];
    return cell + words(" (") + number(band.low, pointer + "/bands_mm" + index + "/p5", text(band.low)) +
           words(" to ") + number(band.high, pointer + "/bands_mm" + index + "/p95", text(band.high)) +
           words(")");
}

Markup readings_table(const Sheet& sheet, const ProofTest& test) {
    std::vector<TableColumn> columns{{"step"}, {"load", true}};
    for (std::size_t g = 0; g < test.gauges.size(); ++g) {
        columns.push_back({gauge_letter(g) + " should read", true});
        columns.push_back({gauge_letter(g) + " read"});
    }
    columns.push_back({"noise, cracks"});
    const auto blank_row = [&](const char* step) {
        TableRow row{{words(step), {}}};
        for (std::size_t g = 0; g < test.gauges.size(); ++g)
            row.cells.insert(row.cells.end(), {Markup{}, blank_cell()});
        row.cells.push_back(blank_cell());
        return row;
    };
    std::vector<TableRow> rows{blank_row("10 %, off")};
    for (std::size_t s = 0; s < test.steps.size(); ++s) {
        const ProofStep& step = test.steps[s];
        const std::string pointer = "/trials/proof_test/steps/" + std::to_string(s);
        TableRow row{{number(step.share, pointer + "/share", percent_text(100 * step.share)),
                      forced(sheet, step.force_N, pointer + "/force_N")}};
        for (std::size_t g = 0; g < test.gauges.size(); ++g) {
            row.cells.push_back(reading_cell(sheet, step.readings_mm[g], pointer, s, g));
            row.cells.push_back(blank_cell());
        }
        row.cells.push_back(blank_cell());
        rows.push_back(std::move(row));
    }
    rows.push_back(blank_row("off, 5 min"));
    rows.push_back(blank_row("off, 24 h"));
    return table("Steps and readings", columns, rows) +
           para(
               words("First a tenth of the load laid on and taken off, then the gauges to nought. 100 % is "
                     "the load that is tested, 125 % "
                     "the proof load, left on for 30 to 60 minutes.") +
               words(
                   sheet.in.trials->proof_bands.empty()
                       ? ""
                       : " In brackets: between these nine of ten such tops lie, as their wood, sizes and "
                         "moisture scatter; the gauge's own error (0.02 mm) and the model's (2 %) are in it, "
                         "both judgement (hollowtop prooftest tells more)."));
}

Markup gauges_table(const Sheet& sheet, const ProofTest& test) {
    const Units units = sheet.units();
    std::vector<TableRow> rows;
    for (std::size_t g = 0; g < test.gauges.size(); ++g) {
        const ProofGauge& gauge = test.gauges[g];
        const std::string pointer = "/trials/proof_test/gauges/" + std::to_string(g);
        rows.push_back({{words(gauge_letter(g)), words(text_of(gauge.where)),
                         placed(sheet, gauge.at, pointer + "/at_mm"),
                         number(gauge.slope_mm_per_100_N, pointer + "/slope_mm_per_100_N",
                                slope_text(gauge.slope_mm_per_100_N, units)),
                         blank_cell(), blank_cell()}});
    }
    return table("Gauges",
                 {{"mark"},
                  {"where"},
                  {std::string("x, y (") + place_unit(units) + ")", true},
                  {units == Units::mm ? "slope by this computation, per 100 N"
                                      : "slope by this computation, per 100 lbf",
                   true},
                  {"slope read"},
                  {"read / computed"}},
                 rows);
}

Markup gauges_picture(const Sheet& sheet, const ProofTest& test) {
    PlanContent content{.dimensions = false, .depths = false, .sections = false};
    content.gauges = true;
    content.kept = false;
    content.loads = true;
    for (std::size_t g = 0; g < test.gauges.size(); ++g)
        content.spots.push_back({test.gauges[g].at, gauge_letter(g)});
    return figure(
        words("Where the gauges of the proof test stand (T1 and on), seen from below with the front edge at "
              "the top; letters: supports."),
        [&](const std::string& end, double width) {
            return plan_picture("test" + end, sheet.in.piece, sheet.plan, width, sheet.units(), content);
        });
}

} // namespace

Markup test_section(const Sheet& sheet) {
    const std::optional<ProofTest> test = sheet.in.trials ? sheet.in.trials->proof : std::nullopt;
    Markup inner = para(words("Proof test: not done."), "sentence") +
                   para(words("A test with known weights before delivery is what turns this calculation into "
                              "evidence for this very top. What "
                              "follows is the record to fill in."));
    if (!sheet.result().passes)
        inner += para(words("This top does not meet the limits set (") + section_link(sheet, "verdict") +
                          words("): change it before anything is laid on it."),
                      "lead warn");
    if (!test) {
        inner += para(words(
            sheet.in.trials ? "No load of this piece can be laid on in steps, so nothing is predicted here."
                            : "What the gauges should read was left out, as was asked for (--quick)."));
        return element("section", heading(sheet, "test") + inner);
    }
    std::vector<Markup> how{
        words("What is laid on: ") + own(in_words(test->load_name, sheet.units())) + words(", ") +
            forced(sheet, test->force_N, "/trials/proof_test/force_N") + words(", spread as listed in ") +
            section_link(sheet, "asked") +
            words(". Bags of sand, canisters of water or reams of paper; weigh one in ten of them."),
        words("The top on its own supports, on a level floor, fittings tightened once, a day indoors at " +
              std::string(sheet.units() == Units::mm ? "15 to 25 \u00b0C" : "60 to 75 \u00b0F") +
              " beforehand."),
        words("Dial gauges of " + std::string(sheet.units() == Units::mm ? "0.01 mm" : "0.0005 in") +
              " from the floor, at the marks below and at every support. The predicted "
              "readings are those of the top "
              "against its supports: take off what the gauges at the supports show, in proportion. Nought is "
              "the top under its own "
              "weight."),
        words("Read a minute after each step; under the proof load after 1, 15 and 60 minutes."),
        words("Nobody under the top; blocks close below it, " +
              std::string(sheet.units() == Units::mm ? "20 mm" : "3/4 in") +
              "; weights lowered, never dropped (common practice)."),
        words("Stop at any noise, where the movement goes on growing under a load that stays, or where a "
              "gauge reads more than half as "
              "much again as it should (a proposal of ours).")};
    inner += bullets(how) + gauges_picture(sheet, *test) + gauges_table(sheet, *test) +
             readings_table(sheet, *test);
    std::vector<Markup> passing{words("No crack, no noise, no mark showing through on the face."),
                                words("At least 75 % of the greatest reading is gone 24 hours after "
                                      "unloading: taken over, for want of a rule for tops, from one for "
                                      "building elements (International Building Code 2018, section "
                                      "1709.3.1, read as quoted). That rule lays on 2.0 times the unfactored "
                                      "load for 24 hours. Less is laid on here, and for a shorter time, to "
                                      "spare a top that is to be used: to pass here is not to pass there."),
                                words("Read / computed lies between 0.8 and 1.25 (a proposal of ours: about "
                                      "one coefficient of variation of the wood's stiffness, "
                                      "Wood Handbook FPL-GTR-190 Table 5-6, either way). Outside, the top is "
                                      "not the one computed: find out why.")};
    inner += element("h3", words("What counts as good")) + bullets(passing);
    std::vector<std::pair<std::string, Markup>> record;
    for (const char* field :
         {"Date and place", "Air: temperature, humidity", "Moisture of the wood, how measured",
          "Weights used, how checked", "Gauges at the supports", "Recovery after 24 hours",
          "Pictures: before, at the proof load, after, a scale in view", "Tester", "Witness"})
        record.push_back({field, blank_cell()});
    inner += element("h3", words("Record")) + facts(record);
    return element("section", heading(sheet, "test") + inner);
}

} // namespace hollowtop::cli
