// SPDX-License-Identifier: MIT
// Computed against published, case by case.
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/files/files.hpp"
#include "cli/json/junit.hpp"
#include "cli/json/result_json.hpp"
#include "cli/json/validation_json.hpp"
#include "cli/read/piece_file.hpp"
#include "cli/report/validation_page.hpp"
#include "cli/text/page.hpp"
#include "cli/text/progress.hpp"
#include "cli/words/format.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"
#include "validation/case_data.hpp"
#include "validation/run_cases.hpp"

#include <algorithm>
#include <array>
#include <filesystem>
#include <system_error>
#include <utility>

namespace hollowtop::cli {
namespace {

constexpr Option cases_option{"--cases", "FILE_OR_FOLDER",
                              "run these cases, each a JSON file, in place of the built-in ones; may be "
                              "given several times",
                              true};
constexpr Option page_or_text_option{
    "--out", "FILE",
    "write the text to FILE, in place of the screen; to a name that ends in .html a page with every case, "
    "its source and its values on three meshes, "
    "which takes three to four times as long",
    false, "-o"};
constexpr std::array<Option, 9> options{cases_option, json_option,     junit_option,
                                        mesh_option,  threads_option,  page_or_text_option,
                                        quiet_option, no_color_option, help_option};

std::vector<std::string> case_files(const std::string& file_or_folder) {
    namespace fs = std::filesystem;
    std::error_code error;
    if (!fs::is_directory(file_or_folder, error)) return {file_or_folder};
    std::vector<std::string> files;
    for (const auto& entry : fs::directory_iterator(file_or_folder, error))
        if (entry.path().extension() == ".json") files.push_back(entry.path().string());
    std::sort(files.begin(), files.end());
    if (error || files.empty())
        throw Error(ErrorKind::input, Fault{cases_option.name, "no case is in this folder",
                                            "name a folder that holds .json files"});
    return files;
}

std::vector<validation::Case> read_cases(const Given& given) {
    std::vector<validation::Case> cases;
    if (!given.has(cases_option.name)) {
        for (const validation::CaseText& built_in : validation::built_in_cases())
            cases.push_back(validation::parse_case(built_in.text, std::string(built_in.name)));
        return cases;
    }
    for (const std::string& place : parted(given.options.at(cases_option.name), '\n'))
        for (const std::string& file : case_files(place))
            cases.push_back(validation::parse_case(read_file(file), file));
    return cases;
}

/// The options for each mesh that is wanted, from the coarsest to the finest, and which of them is told.
struct Meshes {
    std::vector<CheckOptions> options;
    std::size_t told = 0;
};
Meshes meshes_of(const CheckOptions& asked, bool page_wanted) {
    if (!page_wanted) return {.options = {asked}};
    Meshes meshes{.options = {asked, asked, asked}, .told = 1};
    if (asked.mesh_size) {
        meshes.options[0].mesh_size = 1.5 * *asked.mesh_size;
        meshes.options[2].mesh_size = 0.65 * *asked.mesh_size;
    } else {
        meshes.options[0].mesh = CheckOptions::Mesh::coarse;
        meshes.options[1].mesh = CheckOptions::Mesh::normal;
        meshes.options[2].mesh = CheckOptions::Mesh::fine;
        meshes.told = static_cast<std::size_t>(asked.mesh); // as the three stand in it
    }
    return meshes;
}

ValidatedCase computed(const validation::Case& one, const Meshes& meshes) {
    ValidatedCase validated{.about = one, .meshes = {}, .told = meshes.told};
    for (const CheckOptions& chosen : meshes.options) {
        MeshRun run;
        run.lines = validation::run_case(one, [&](const std::string& piece_json) {
            const Result result = check_piece(piece_of_json(piece_json), chosen).result;
            run.dofs = result.mesh.dofs;
            return to_json(result);
        });
        validated.meshes.push_back(std::move(run));
    }
    return validated;
}

std::string counted(std::size_t count, const char* what) {
    return std::to_string(count) + ' ' + what + (count == 1 ? "" : "s");
}

std::string tolerance_text(const validation::Tolerance& tolerance) {
    return significant(tolerance.size, 3) + (tolerance.is_percent ? " %" : "");
}

Row row_of(const validation::Comparison& c) {
    std::string difference;
    if (c.difference_percent)
        difference = fixed(*c.difference_percent, 2) + " %";
    else if (c.computed)
        difference = significant(*c.computed - c.published, 3);
    return {{c.id, c.what, c.computed ? significant(*c.computed, 6) : "-", significant(c.published, 6),
             difference, tolerance_text(c.tolerance), c.ok ? "ok" : "miss"},
            c.ok ? Tone::plain : Tone::bad};
}

std::string text_of(const std::vector<validation::Comparison>& all, std::size_t n_cases,
                    const Settings& settings) {
    Page page;
    std::vector<Row> rows;
    rows.reserve(all.size());
    for (const auto& comparison : all) rows.push_back(row_of(comparison));
    page.table({{.heading = "case", .widest = 8},
                {.heading = "what", .widest = 36},
                {.heading = "computed", .to_the_right = true},
                {.heading = "reference", .to_the_right = true},
                {.heading = "difference", .to_the_right = true},
                {.heading = "allowed", .to_the_right = true},
                {.heading = ""}},
               rows);
    const auto n_missed = std::count_if(all.begin(), all.end(), [](const auto& c) { return !c.ok; });
    if (n_missed > 0) {
        page.blank();
        page.heading("Misses");
        for (const auto& c : all)
            if (!c.ok)
                page.bullet(c.id + " " + c.what + ": " + c.title + " (" + c.source + ")" +
                            (c.problem.empty() ? "" : ". " + c.problem) +
                            (c.why.empty() ? "" : ". " + c.why));
    }
    page.blank();
    page.paragraph(counted(all.size(), "value") + " of " + counted(n_cases, "case") + " compared, " +
                       (n_missed == 0 ? "all within their tolerances."
                                      : std::to_string(n_missed) + " outside their tolerances."),
                   0, n_missed == 0 ? Tone::good : Tone::bad);
    return page.text(settings.coloured);
}

/// One value as a test, under the name of its case.
TestLine test_line_of(const validation::Comparison& c) {
    TestLine line{
        .group = "hollowtop.validate." + c.id, .name = c.what, .message = c.problem, .text = c.source};
    if (c.ok) return line;
    line.outcome = c.computed ? TestLine::Outcome::failed : TestLine::Outcome::not_computed;
    if (c.computed)
        line.message = "computed " + significant(*c.computed, 6) + ", reference " +
                       significant(c.published, 6) + ", allowed " + tolerance_text(c.tolerance);
    return line;
}

Status run(const Given& given) {
    Settings settings = settings_of(given);
    const std::string junit_file = junit_file_of(given);
    const std::string page_file =
        settings.out_file.ends_with(".html") ? std::exchange(settings.out_file, "") : "";
    ensure_apart(given.names, {{json_option.name, settings.json_file},
                               {out_option.name, page_file.empty() ? settings.out_file : page_file},
                               {junit_option.name, junit_file}});
    const Meshes meshes = meshes_of(settings.check, !page_file.empty());
    const std::vector<validation::Case> cases = read_cases(given);
    std::vector<ValidatedCase> validated;
    std::vector<validation::Comparison> all;
    {
        Progress bar("validate", settings.bar_wanted);
        double done = 0;
        for (const validation::Case& one : cases) {
            validated.push_back(computed(one, meshes));
            const auto& lines = validated.back().lines();
            all.insert(all.end(), lines.begin(), lines.end());
            bar.show(++done / static_cast<double>(cases.size()));
        }
    }
    std::vector<Output> outputs;
    if (!settings.json_file.empty()) add_json(outputs, settings.json_file, to_json(all));
    if (!junit_file.empty()) {
        std::vector<TestLine> lines;
        for (const validation::Comparison& comparison : all) lines.push_back(test_line_of(comparison));
        outputs.push_back({junit_file, junit_option.name, junit_xml("hollowtop validate", lines)});
    }
    if (!page_file.empty())
        outputs.push_back({page_file, page_or_text_option.name, validation_html(validated)});
    add_text(outputs, settings, text_of(all, cases.size(), settings));
    write_files(outputs);
    return validation::all_ok(all) ? Status::passes : Status::fails;
}

} // namespace

extern const Command validate_command{
    .name = "validate",
    .one_line = "run the validation cases: computed against published, formula and reference",
    .names = "",
    .least_names = 0,
    .most_names = 0,
    .text =
        "Each case is a piece whose answer is published, follows from a formula or was computed by another "
        "program: its source stands in its file, and in the page that --out writes. Prints computed, "
        "reference "
        "and the difference. Your own cases: a JSON file with \"id\", \"title\", \"source\", \"piece\" "
        "(as in a piece file) "
        "and \"expect\", a list of {\"what\": \"/situations/0/sag_mm\", \"value\": 1.23, "
        "\"tolerance_percent\": 1}, where "
        "\"what\" points into the JSON result. For a top that you loaded and measured, "
        "validation/measured shows the form.\n"
        "Exit status: 0 all within their tolerances, 1 some outside, 2 the input is wrong.",
    .example = "hollowtop validate\n"
               "hollowtop validate --out validation.html\n"
               "hollowtop validate --cases my_cases --json compared.json",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
