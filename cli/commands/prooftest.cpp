// SPDX-License-Identifier: MIT
// What should the finished top read under a known weight, and what do its readings say of it?
//   1. read the piece, the readings and every option
//   2. check the piece, predict the readings; of readings learn, and check anew
//   3. write the sheet, the JSON and the text
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/files/files.hpp"
#include "cli/read/gauge_readings.hpp"
#include "cli/read/piece_file.hpp"
#include "cli/read/table_of_json.hpp"
#include "cli/report/proof_sheet.hpp"
#include "cli/text/progress.hpp"
#include "cli/text/prooftest_text.hpp"
#include "cli/words/said.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"
#include "solver/check/check_piece.hpp"

#include <algorithm>
#include <array>

namespace hollowtop::cli {
namespace {

constexpr Option readings_option{
    "--readings", "FILE",
    "compare with what the gauges read: a table with a line for each step, \"load (kg), A, B, C\", or with "
    "semicolons and decimal commas; or JSON: a list of [load, A, B, C]"};
constexpr Option sheet_option{
    "--sheet", "FILE.html",
    "write a page for the bench: where weights and gauges go, and a table to fill in"};
constexpr std::array<Option, 10> options{readings_option, sheet_option,   json_option, units_option,
                                         mesh_option,     threads_option, out_option,  quiet_option,
                                         no_color_option, help_option};

std::vector<Restated> restated(const Result& before, const Result& now, const Result& soft) {
    std::vector<Restated> rows;
    const auto find = [](const Result& result, const std::string& check) -> const CheckResult* {
        const CheckResult* found = nullptr;
        for (const CheckResult& row : result.checks)
            if (!row.advice && row.check == check && (!found || row.utilisation > found->utilisation))
                found = &row;
        return found;
    };
    for (const CheckResult& row : now.checks) {
        if (row.advice ||
            std::any_of(rows.begin(), rows.end(), [&](const Restated& r) { return r.check == row.check; }))
            continue;
        const CheckResult *was = find(before, row.check), *is = find(now, row.check),
                          *end = find(soft, row.check);
        // readings teach of movement; of stresses they are no reason to tell less than was computed
        const bool is_movement =
            row.check.starts_with("sag") || row.check.starts_with("flatness") || row.check == "dish";
        const double least = is_movement || !was ? 0 : was->demand,
                     least_used = is_movement || !was ? 0 : was->utilisation;
        rows.push_back({.check = row.check,
                        .unit = is->unit,
                        .limit = is->capacity,
                        .before = was ? was->demand : 0,
                        .now = std::max(least, is->demand),
                        .soft = std::max(least, end ? end->demand : 0),
                        .utilisation_now = std::max(least_used, is->utilisation),
                        .utilisation_soft = std::max(least_used, end ? end->utilisation : 0)});
    }
    std::stable_sort(rows.begin(), rows.end(), [](const Restated& a, const Restated& b) {
        return a.utilisation_now > b.utilisation_now;
    });
    return rows;
}

/// CSV or JSON.
GaugeReadings readings_in(const std::string& text, const ProofTest& test) {
    if (!is_json(text)) return parse_readings(text, test);
    std::vector<std::string> names{"load"};
    std::string heading = "load";
    for (std::size_t g = 0; g < test.gauges.size(); ++g) {
        names.push_back(gauge_letter(g));
        heading += ";" + names.back();
    }
    const std::vector<std::string_view> columns(names.begin(), names.end());
    return parse_readings(heading + "\n" + table_of_json(text, columns), test);
}

void learn_from(const std::string& file, const CheckOutcome& outcome, const CheckOptions& check,
                ProofStory& story) {
    try {
        const GaugeReadings read = readings_in(read_file(file), story.prediction.test);
        story.notes = read.notes;
        std::vector<GaugeFound> found = gauges_found(story.prediction, read.readings);
        expect_plausible(found);
        story.learned = learn(story.prediction, std::move(found));
    } catch (const Error& error) {
        if (!error.file.empty()) throw;
        Error told = error;
        told.file = file;
        throw told;
    }
    story.boards = boards_learned(story.prediction, *story.learned);
    const Result now =
        check_piece(piece_learned(outcome.placed, story.prediction, *story.learned), check).result;
    const Result soft =
        check_piece(piece_learned(outcome.placed, story.prediction, *story.learned, true), check).result;
    story.checks = restated(outcome.result, now, soft);
    story.passes_now = now.passes && std::none_of(story.checks.begin(), story.checks.end(),
                                                  [](const Restated& c) { return c.utilisation_now > 1; });
}

Status run(const Given& given) {
    const std::string& file = given.names.front();
    const Piece piece = load_piece(file);
    const Settings settings = settings_of(given);
    const TextStyle style = settings.style(piece.units);
    const std::string sheet =
        given.has(sheet_option.name) ? given.options.at(sheet_option.name) : std::string();
    const std::string readings =
        given.has(readings_option.name) ? given.options.at(readings_option.name) : std::string();
    if (!sheet.empty()) ensure_writable(sheet, sheet_option.name);
    for (const auto& [option, name] :
         {std::pair{json_option.name, settings.json_file}, {sheet_option.name, sheet}})
        for (const std::string& input : {file, readings})
            if (!name.empty() && !input.empty() && is_same_file(input, name))
                throw Error(ErrorKind::input,
                            Fault{option, in_quotes(name) + " is a file that is read", "name another file"});
    if (!readings.empty()) read_file(readings); // missing: told before anything is computed
    ProofStory story{.file = file, .title = piece.title};
    try {
        Progress bar(file, settings.bar_wanted);
        CheckOptions check = settings.check;
        check.progress = [&](double share) { bar.show(0.2 * share); };
        const CheckOutcome outcome = check_piece(piece, check);
        UncertaintyOptions asked{.check = settings.check};
        asked.check.progress = [&](double share) { bar.show(0.2 + 0.6 * share); };
        std::optional<ProofPrediction> prediction = predict_proof(outcome, asked);
        if (!prediction)
            throw Error(ErrorKind::not_computable,
                        Fault{"loads", "no load of this piece can be laid on in steps",
                              "give a load that is to be tested, such as a patch or an area"});
        story.piece = outcome.placed;
        story.passes = story.passes_now = outcome.result.passes;
        story.prediction = std::move(*prediction);
        if (!readings.empty()) learn_from(readings, outcome, settings.check, story);
    } catch (Error& error) {
        error = in_words(error, style.units);
        if (error.file.empty()) error.file = file;
        throw;
    }
    std::vector<Output> outputs;
    if (!sheet.empty()) outputs.push_back({sheet, sheet_option.name, proof_sheet(story, style.units)});
    if (!settings.json_file.empty()) add_json(outputs, settings.json_file, prooftest_json(story));
    if (settings.text_wanted()) add_text(outputs, settings, prooftest_text(story, style));
    write_files(outputs);
    return story.passes_now ? Status::passes : Status::fails;
}

} // namespace

extern const Command prooftest_command{
    .name = "prooftest",
    .one_line = "what the finished top should read under a known weight",
    .names = "PIECE",
    .least_names = 1,
    .most_names = 1,
    .text =
        "Says how to load the finished top safely before it leaves the shop: which load, where, in which "
        "steps; what gauges should read at each step and how far nine of ten such tops scatter about it; "
        "how the reading grows in an hour and a day; when to stop. With --readings it compares, learns how "
        "stiff this top's wood is, and states every check anew by a new solve.\n"
        "The load is the one of the piece that bends it most. Readings are downward, against the supports.\n"
        "A test shows how stiff the top is and that it bore this load once; it shows no strength beyond it. "
        "Nobody under the top; stop at any noise.\n"
        "Exit status: 0 the top meets the limits (with readings: with what was learned), 1 it does not, 2 "
        "the "
        "input is wrong, 3 it could not be computed.",
    .example = "hollowtop prooftest --sheet bench.html docs/examples/reading_table.json\n"
               "hollowtop prooftest --readings readings.csv docs/examples/reading_table.json",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
