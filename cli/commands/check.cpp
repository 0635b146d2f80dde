// SPDX-License-Identifier: MIT
// Is this top stiff and strong enough?
//   1. read every piece and every option: a fault here, and nothing is computed or written
//   2. compute piece by piece
//   3. write the JSON, the fields and the text
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/files/files.hpp"
#include "cli/json/junit.hpp"
#include "cli/json/result_json.hpp"
#include "cli/read/piece_file.hpp"
#include "cli/report/drawing/vtu.hpp"
#include "cli/text/answer_text.hpp"
#include "cli/text/check_text.hpp"
#include "cli/text/progress.hpp"
#include "cli/words/cautions.hpp"
#include "cli/words/format.hpp"
#include "cli/words/messages.hpp"
#include "cli/words/said.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"
#include "solver/uncertainty/uncertainty.hpp"
#include "solver/variants/remedies.hpp"

#include <array>
#include <optional>

namespace hollowtop::cli {
namespace {

constexpr Option fields_option{
    "--fields", "FILE.vtu",
    "write thickness, movement and face stresses in VTK's open XML format (one piece)"};
constexpr Option sources_option{"--sources", "",
                                "say all, and where every limit comes from, not only the one that governs"};
constexpr Option full_option{
    "--full", "",
    "say all: every check, supports, stiffeners, pushes, what was taken for granted, all cautions"};
constexpr Option band_option{
    "--band", "",
    "say how far such tops scatter: the band of every check for boards, sizes, moisture and loads as they "
    "vary, the chance of more than is allowed, what matters most (takes some seconds; one piece)"};
constexpr Option quick_option{
    "--quick", "",
    "a first answer, in a fraction of the time, while a piece is still being drawn: one mesh whatever it "
    "errs by, "
    "nothing of what would help; the text and the JSON say that it is not final (one piece)"};
constexpr std::array<Option, 14> options{
    full_option, band_option,  json_option,    fields_option, sources_option, junit_option,    units_option,
    mesh_option, quick_option, threads_option, out_option,    quiet_option,   no_color_option, help_option};

struct Job {
    std::string file;
    Piece piece;
    std::optional<CheckOutcome> outcome;
    std::optional<Uncertainty> band{};
    std::string problem; ///< why there is no outcome
};

std::vector<Job> read_pieces(const std::vector<std::string>& files) {
    std::vector<Job> jobs;
    std::vector<Error> errors;
    for (const std::string& file : files) {
        try {
            jobs.push_back({.file = file, .piece = load_piece(file), .outcome = {}, .problem = {}});
        } catch (const Error& error) {
            errors.push_back(error);
        }
    }
    if (errors.empty()) return jobs;
    // The last is shown by main, the others here: three wrong files are told in one run.
    for (std::size_t i = 0; i + 1 < errors.size(); ++i) show(errors[i]);
    throw Error(errors.back());
}

std::string fields_file_of(const Given& given) {
    if (!given.has(fields_option.name)) return {};
    const std::string& file = given.options.at(fields_option.name);
    if (given.names.size() > 1)
        throw Error(ErrorKind::input, Fault{fields_option.name, "several pieces are given",
                                            "write the fields of one piece at a time"});
    ensure_writable(file, fields_option.name);
    return file;
}

std::vector<Message> cautions_of(const Piece& piece) {
    std::vector<Message> all(cautions().begin(), cautions().end());
    if (!piece.recesses.empty()) all.insert(all.end(), router_cautions().begin(), router_cautions().end());
    return all;
}

/// `in_short`: nothing but the verdict and what it rests on will be told.
void compute(Job& job, const Settings& settings, bool want_fields, bool in_short) {
    Progress bar(job.file, settings.bar_wanted);
    CheckOptions check = settings.check;
    check.in_short = in_short;
    check.want_fields = want_fields;
    check.progress = [&](double share) { bar.show(share); };
    try {
        job.outcome = check_piece(job.piece, check);
    } catch (Error& error) {
        error = in_words(error, settings.style(job.piece.units).units);
        error.file = job.file;
        throw;
    }
    Result& result = job.outcome->result;
    result.cautions = cautions_of(job.piece);
    if (check.unrefined)
        result.warnings.insert(result.warnings.begin(),
                               said("A first answer (--quick), not final: the mesh was not refined until its "
                                    "error is small, and what is advice alone is left out. Only a check "
                                    "without it counts."));
}

/// A piece alone that fails is told what would help: dozens of checks more.
void look_for_remedies(Job& job, const Settings& settings) {
    Result& result = job.outcome->result;
    if (settings.check.unrefined) return;
    if (result.passes || (!settings.text_wanted() && settings.json_file.empty())) return; // nobody reads it
    Progress bar("what would help", settings.bar_wanted);
    CheckOptions check = settings.check;
    check.progress = [&](double share) { bar.show(share); };
    Remedies found = remedies_for(job.piece, *job.outcome, check);
    result.remedies = std::move(found.changes);
    result.solid_too = std::move(found.solid_too);
}

void look_for_band(Job& job, const Settings& settings) {
    Progress bar("how sure", settings.bar_wanted);
    UncertaintyOptions asked{.check = settings.check};
    asked.check.progress = [&](double share) { bar.show(share); };
    try {
        job.band = uncertainty_of(*job.outcome, asked);
    } catch (Error& error) {
        error = in_words(error, settings.style(job.piece.units).units);
        error.file = job.file;
        throw;
    }
}

/// One piece as a test: what governs, and each check that fails.
TestLine test_line_of(const Job& job, Units units) {
    TestLine line{.group = "hollowtop.check", .name = job.file, .message = job.problem};
    if (!job.outcome) {
        line.outcome = TestLine::Outcome::not_computed;
        return line;
    }
    const Result& result = job.outcome->result;
    if (result.passes) return line;
    line.outcome = TestLine::Outcome::failed;
    line.message = result.governing_check + " at " + utilisation_text(result.governing_utilisation) +
                   ", in \"" + in_words(result.governing_situation, units) + "\"";
    for (const CheckResult& check : result.checks)
        if (!check.advice && check.utilisation > 1)
            line.text += check.check + " at " + utilisation_text(check.utilisation) + ", in \"" +
                         in_words(check.situation, units) + "\"\n";
    return line;
}

Status run_one(Job& job, const Settings& settings, const TextStyle& style, const std::string& fields_file,
               const std::string& junit_file, bool full, bool band_wanted) {
    try {
        compute(job, settings, !fields_file.empty(), !full && settings.json_file.empty());
    } catch (const Error& error) {
        job.problem = text_of(error.faults().front().what);
        if (!junit_file.empty() && error.kind() == ErrorKind::not_computable)
            write_file(junit_file, junit_option.name,
                       junit_xml("hollowtop check", {test_line_of(job, style.units)}));
        throw;
    }
    if (band_wanted) look_for_band(job, settings);
    const Uncertainty* const band = job.band ? &*job.band : nullptr;
    look_for_remedies(job, settings);
    const Result& result = job.outcome->result;
    const std::string json = settings.json_file.empty() ? std::string() : to_json(result, band);
    const std::string text = !settings.text_wanted() ? std::string()
                             : full                  ? check_text(job.file, job.piece, result, style, band)
                                                     : answer_text(job.file, job.piece, result, style, band);
    std::vector<Output> outputs;
    if (!fields_file.empty() && job.outcome->fields)
        outputs.push_back({fields_file, fields_option.name, to_vtu(*job.outcome->fields)});
    add_json(outputs, settings.json_file, json);
    if (!junit_file.empty())
        outputs.push_back(
            {junit_file, junit_option.name, junit_xml("hollowtop check", {test_line_of(job, style.units)})});
    add_text(outputs, settings, text);
    write_files(outputs);
    return result.passes ? Status::passes : Status::fails;
}

Status run_many(std::vector<Job>& jobs, const Settings& settings, const std::string& junit_file) {
    std::vector<NamedResult> results;
    std::vector<SummaryRow> rows;
    bool all_pass = true;
    for (Job& job : jobs) {
        try {
            compute(job, settings, false, false);
            results.push_back({.file = job.file, .result = job.outcome->result});
            all_pass = all_pass && job.outcome->result.passes;
        } catch (const Error& error) {
            if (error.kind() == ErrorKind::input) throw;
            show(error);
            job.problem = text_of(error.faults().front().what);
        }
    }
    rows.reserve(jobs.size());
    for (const Job& job : jobs)
        rows.push_back({.file = job.file,
                        .result = job.outcome ? &job.outcome->result : nullptr,
                        .problem = job.problem});
    const bool all_computed = results.size() == jobs.size();
    // A list that lacks a piece would pass for the whole: it is not written.
    std::vector<Output> outputs;
    if (all_computed && !settings.json_file.empty()) add_json(outputs, settings.json_file, to_json(results));
    if (!junit_file.empty()) {
        std::vector<TestLine> lines;
        for (const Job& job : jobs) lines.push_back(test_line_of(job, settings.style(job.piece.units).units));
        outputs.push_back({junit_file, junit_option.name, junit_xml("hollowtop check", lines)});
    }
    add_text(outputs, settings, summary_text(rows, settings.style(jobs.front().piece.units)));
    write_files(outputs);
    if (!all_computed) return Status::not_computed;
    return all_pass ? Status::passes : Status::fails;
}

/// A first answer is for whoever draws: nothing that others rely on is made of it.
void ask_quickly(const Given& given, Settings& settings) {
    if (!given.has(quick_option.name)) return;
    if (given.names.size() > 1)
        throw Error(ErrorKind::input, Fault{quick_option.name, "several pieces are given",
                                            "ask for the first answer of one piece at a time"});
    for (const char* other : {band_option.name, junit_option.name})
        if (given.has(other))
            throw Error(ErrorKind::input, Fault{quick_option.name,
                                                std::string("a first answer is not final, and ") + other +
                                                    " asks for one that is",
                                                "leave one of them out"});
    settings.check.unrefined = settings.check.essentials = settings.check.no_advice = true;
    if (!given.has(mesh_option.name)) settings.check.mesh = CheckOptions::Mesh::coarse;
}

Status run(const Given& given) {
    std::vector<Job> jobs = read_pieces(given.names);
    Settings settings = settings_of(given);
    ask_quickly(given, settings);
    const std::string fields_file = fields_file_of(given), junit_file = junit_file_of(given);
    ensure_apart(given.names, {{json_option.name, settings.json_file},
                               {out_option.name, settings.out_file},
                               {fields_option.name, fields_file},
                               {junit_option.name, junit_file}});
    if (jobs.size() > 1 && given.has(band_option.name))
        throw Error(ErrorKind::input, Fault{band_option.name, "several pieces are given",
                                            "ask for the band of one piece at a time"});
    if (jobs.size() > 1) return run_many(jobs, settings, junit_file);
    TextStyle style = settings.style(jobs.front().piece.units);
    style.all_sources = given.has(sources_option.name);
    return run_one(jobs.front(), settings, style, fields_file, junit_file,
                   given.has(full_option.name) || style.all_sources, given.has(band_option.name));
}

} // namespace

extern const Command check_command{
    .name = "check",
    .one_line = "is this top stiff and strong enough?",
    .names = "PIECE...",
    .least_names = 1,
    .most_names = 10'000,
    .text = "Reads a piece file, computes how the top bends under its own weight and under each load, now "
            "and after "
            "the years, and compares with the limits set: sag, the dish of a thin skin, stresses along and "
            "across the "
            "grain, pressure at the supports. Says what governs and what would help. Several pieces give a "
            "line each.\n"
            "A load with \"at\": \"worst\" travels over the top, and its worst places are found and told.\n"
            "Exit status: 0 every check passes, 1 a check fails, 2 the input is wrong, 3 it could not be "
            "computed.",
    .example = "hollowtop check docs/examples/reading_table.json\n"
               "hollowtop check --band docs/examples/reading_table.json\n"
               "hollowtop check --units in --json result.json desk.json",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
