// SPDX-License-Identifier: MIT
// The report for a client piece, one HTML page.
//   1. read the piece, every option, and ask whether the page could be written
//   2. compute the check, and beside it what the papers asked for tell
//   3. write the page, whole or not at all
#include "cli/report/report.hpp"

#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/commands/vary.hpp"
#include "cli/files/files.hpp"
#include "cli/json/result_json.hpp"
#include "cli/read/piece_file.hpp"
#include "cli/report/data.hpp"
#include "cli/text/progress.hpp"
#include "cli/words/cautions.hpp"
#include "cli/words/quantity.hpp"
#include "cli/words/said.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"
#include "solver/numeric/threads.hpp"
#include "solver/uncertainty/uncertainty.hpp"
#include "solver/variants/judge_each.hpp"
#include "solver/variants/remedies.hpp"
#include "solver/variants/space.hpp"
#include "validation/case_data.hpp"
#include "validation/run_cases.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <functional>
#include <iterator>
#include <utility>

namespace hollowtop::cli {
namespace {

constexpr Option page_option{"--out", "FILE",
                             "write the page to FILE (where not given: the piece's name with .html, in this "
                             "folder; - for standard output)",
                             false, "-o"};
constexpr Option date_option{
    "--date", "TEXT",
    "the date to print on it (where not given: none, so that two runs give the same bytes)"};
constexpr Option pictures_option{"--pictures", "FOLDER",
                                 "write each picture as an SVG file into FOLDER as well"};
constexpr Option compare_option{"--compare", "KEY=VALUES",
                                "add variants side by side, such as \"depth=12..20 step 2\"; may be given "
                                "several times, as --vary of hollowtop compare",
                                true};
constexpr Option cutter_option{
    "--cutter", "DIAMETER",
    "of the router's cutter, for the passes of the bench page (12 mm or 1/2 in where not given)"};
constexpr Option for_option{
    "--for",
    "WHOM",
    "one paper alone: client (one page), maker (two), engineer (up to six), or all of them "
    "with an annex (where not given); what it does not tell is not computed",
    false,
    "",
    "client maker engineer all"};
constexpr Option quick_option{
    "--quick", "",
    "leave out what takes further checks of the piece: what changes the verdict first, "
    "how far such tops scatter, the readings of the proof test, what would help a piece that fails"};
constexpr std::array<Option, 13> options{
    page_option, for_option,   date_option, cutter_option,  compare_option, pictures_option, quick_option,
    json_option, units_option, mesh_option, threads_option, quiet_option,   help_option};
/// Those that change the bytes of the page.
constexpr std::array<const Option*, 7> that_matter{
    &for_option, &date_option, &cutter_option, &compare_option, &quick_option, &units_option, &mesh_option};

/// Cases of the project that are computed again for every report: quick ones of each kind, and one that was solved
/// as a solid.
constexpr std::array<std::string_view, 7> quick_cases{
    "b09b_across_grain_wide",     "c06_four_feet",        "c08a_panel_on_rails_lifting",
    "e04a_pine_deep_uniform",     "o01_panel_grain_long", "o03_softwood_with_shear",
    "p01_square_simply_supported"};

Paper paper_of(const Given& given) {
    if (!given.has(for_option.name)) return Paper::all;
    const std::string& word = given.options.at(for_option.name);
    for (const auto& [name, paper] : {std::pair{"client", Paper::client},
                                      {"maker", Paper::maker},
                                      {"engineer", Paper::engineer},
                                      {"all", Paper::all}})
        if (word == name) return paper;
    throw Error(ErrorKind::input,
                Fault{for_option.name, cli::in_quotes(word) + " is nobody that a paper is made for",
                      "give client, maker, engineer or all"});
}

/// As a shell takes it for one word.
std::string shell_word(const std::string& text) {
    const bool plain =
        !text.empty() && text.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
                                                "0123456789._-/=,+:@%") == std::string::npos;
    if (plain) return text;
    std::string quoted = "'";
    for (const char c : text) quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return quoted + "'";
}

/// The command that makes the same bytes again from a piece file of that name.
std::string command_of(const Given& given, const std::string& file) {
    std::string command = "hollowtop report";
    for (const Option* option : that_matter) {
        if (!given.has(option->name)) continue;
        if (*option->value == '\0')
            command += std::string(" ") + option->name;
        else
            for (const std::string& value : parted(given.options.at(option->name), '\n'))
                command += std::string(" ") + option->name + " " + shell_word(value);
    }
    return command + " " + shell_word(file);
}

std::string out_file_of(const Given& given) {
    if (given.has(page_option.name)) return given.options.at(page_option.name);
    return (given.names.front() == standard_input
                ? std::string("piece")
                : std::filesystem::path(given.names.front()).stem().string()) +
           ".html";
}

std::size_t count_of_characters(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80; }));
}

std::string in_base64(std::string_view bytes) {
    constexpr std::string_view signs = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string out;
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        unsigned group = 0;
        for (std::size_t k = 0; k < 3; ++k)
            group = group << 8U | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0U);
        for (std::size_t k = 0; k < 4; ++k)
            out += i + k > bytes.size() ? '=' : signs[group >> (18U - 6U * static_cast<unsigned>(k)) & 63U];
    }
    return out;
}

/// The photographs that the piece file names, from its own folder.
std::vector<Embedded> photographs_of(const Asked& asked, const std::string& piece_file) {
    constexpr std::size_t most_bytes = 2'000'000;
    std::vector<Embedded> all;
    std::vector<Fault> faults;
    for (std::size_t k = 0; k < asked.pictures.size(); ++k) {
        const Photograph& picture = asked.pictures[k];
        const std::string place = "report.pictures[" + std::to_string(k) + "].file";
        const auto folder = std::filesystem::path(piece_file).parent_path();
        std::string bytes;
        try {
            bytes = read_file((folder / picture.file).string());
        } catch (const Error&) {
            faults.push_back({place, cli::in_quotes(picture.file) + " cannot be read",
                              "name a file beside the piece file"});
            continue;
        }
        const bool png = bytes.starts_with("\x89PNG\r\n\x1a\n"), jpeg = bytes.starts_with("\xff\xd8\xff");
        if (!png && !jpeg)
            faults.push_back(
                {place, cli::in_quotes(picture.file) + " is neither PNG nor JPEG", "save it as one"});
        else if (bytes.size() > most_bytes)
            faults.push_back(
                {place, cli::in_quotes(picture.file) + " is larger than 2 MB", "make it smaller"});
        else
            all.push_back({png ? "image/png" : "image/jpeg", in_base64(bytes), picture.caption});
    }
    if (!faults.empty()) throw Error(ErrorKind::input, std::move(faults));
    return all;
}

std::string date_of(const Given& given) {
    if (!given.has(date_option.name)) return {};
    const std::string& date = given.options.at(date_option.name);
    constexpr std::size_t most = 40;
    if (date.empty() || count_of_characters(date) > most || has_control_character(date))
        throw Error(ErrorKind::input, Fault{date_option.name, cli::in_quotes(date) + " is no date to print",
                                            "give a short text such as 2026-05-14"});
    return date;
}

double cutter_of(const Given& given, Units units) {
    if (!given.has(cutter_option.name)) return units == Units::mm ? 12 : Length::from_inches(0.5).mm();
    const std::string& text = given.options.at(cutter_option.name);
    double cutter = 0;
    try {
        cutter = Length::parse(text).mm();
    } catch (const Error&) {
    }
    constexpr double least = 1, most = 100;
    if (!(cutter >= least && cutter <= most))
        throw Error(ErrorKind::input,
                    Fault{cutter_option.name, cli::in_quotes(text) + " is no diameter of a cutter",
                          "give a length such as 12mm or 1/2in, 1 mm to 100 mm"});
    return cutter;
}

std::optional<Seasons> seasons_where_known(const Piece& piece, int threads) {
    if (piece.top.wood.empty()) return std::nullopt;
    return seasons_of(piece, {.threads = threads_for(threads)});
}

/// A top that a little more load tips has no band: the report says all else of it.
std::optional<Uncertainty> band_where_known(const CheckOutcome& outcome, const CheckOptions& check) {
    try {
        return uncertainty_of(outcome, {.check = check, .tries_whole = false});
    } catch (const Error& error) {
        if (error.kind() == ErrorKind::input) throw;
        return std::nullopt;
    }
}

std::vector<validation::Comparison> validated(const CheckOptions& check) {
    std::vector<validation::CaseText> chosen;
    for (const validation::CaseText& one : validation::built_in_cases())
        if (std::find(quick_cases.begin(), quick_cases.end(), one.name) != quick_cases.end())
            chosen.push_back(one);
    CheckOptions quick;
    quick.threads = 1; // each case is small: one a thread
    quick.essentials = quick.no_advice = true;
    quick.mesh = CheckOptions::Mesh::coarse; // made finer where its own error asks for it
    std::vector<std::vector<validation::Comparison>> of_each(chosen.size());
    share_out(static_cast<int>(chosen.size()), threads_for(check.threads), [&](int task, int) {
        const auto i = static_cast<std::size_t>(task);
        const auto compute = [&](const std::string& piece_json) {
            return to_json(check_piece(piece_of_json(piece_json), quick).result);
        };
        of_each[i] = validation::run_case(validation::parse_case(chosen[i].text, std::string(chosen[i].name)),
                                          compute);
    });
    std::vector<validation::Comparison> all;
    for (auto& comparisons : of_each)
        std::move(comparisons.begin(), comparisons.end(), std::back_inserter(all));
    return all;
}

/// At most so many variants: each takes as long as a check, and a table must be read.
constexpr std::uint64_t most_variants = 200;

std::optional<VariantSpace> space_of(const Given& given, const Piece& piece) {
    if (!given.has(compare_option.name)) return std::nullopt;
    std::vector<Axis> axes;
    try {
        for (const std::string& text : parted(given.options.at(compare_option.name), '\n'))
            axes.push_back(read_axis(text, piece));
        for (std::size_t a = 0; a < axes.size(); ++a)
            for (std::size_t b = 0; b < a; ++b)
                if (axes[a].name == axes[b].name)
                    throw Error(ErrorKind::input,
                                Fault{compare_option.name, cli::in_quotes(axes[a].name) + " is varied twice",
                                      "put all its values into one list"});
        VariantSpace space = make_space(piece, std::move(axes));
        if (count_of(space) > most_variants)
            throw Error(ErrorKind::input,
                        Fault{compare_option.name,
                              std::to_string(count_of(space)) + " variants are too many for a report",
                              "vary less, to at most " + std::to_string(most_variants)});
        return space;
    } catch (const Error& error) {
        std::vector<Fault> faults = error.faults();
        for (Fault& fault : faults) fault.place = compare_option.name;
        throw Error(error.kind(), std::move(faults));
    }
}

void judge_variants(const VariantSpace& space, const CheckOptions& check, ReportInput& input) {
    for (const Axis& axis : space.axes) input.varied.push_back(axis.name);
    JudgeEachOptions judging;
    judging.check = check;
    judging.check.want_fields = false;
    judging.check.progress = nullptr;
    judge_each(
        static_cast<std::size_t>(count_of(space)), [&](std::size_t k) { return variant_of(space, k); },
        judging,
        [&](const Judged& one) {
            ReportVariant variant;
            const auto choices = choices_of(space, one.index);
            for (std::size_t a = 0; a < choices.size(); ++a)
                variant.choices.push_back(space.axes[a].choices[choices[a]].label);
            if (one.result) variant.row = row_of(*one.piece, *one.result, {});
            variant.problem = one.problem;
            input.variants.push_back(std::move(variant));
        });
}

std::vector<Message> cautions_of(const Piece& piece) {
    std::vector<Message> all(cautions().begin(), cautions().end());
    if (!piece.recesses.empty()) all.insert(all.end(), router_cautions().begin(), router_cautions().end());
    return all;
}

/// The parts of the sag by hand under what stays; empty where the check made no such estimate.
std::optional<ByHand> by_hand_of(const CheckOutcome& outcome) {
    const Result& result = outcome.result;
    const Piece& piece = outcome.placed;
    for (std::size_t i = 0; i < std::min(result.situations.size(), result.by_hand.size()); ++i) {
        if (result.situations[i].stage != Stage::at_once || !result.by_hand[i].sag_mm) continue;
        HandLoads loads{.loads = {}, .own_weight = piece.self_weight, .creep_factor = 1};
        for (std::size_t k = 0; k < piece.loads.size(); ++k)
            if (piece.loads[k].duration == Duration::permanent ||
                piece.loads[k].duration == Duration::long_term)
                loads.loads.push_back(static_cast<int>(k));
        const HandAnswer answer = sag_by_hand(piece, loads);
        constexpr double noise = 1e-9;
        if (answer.sag &&
            std::abs(answer.sag->sag_mm - *result.by_hand[i].sag_mm) < noise * *result.by_hand[i].sag_mm)
            return ByHand{i, *answer.sag};
    }
    return std::nullopt;
}

/// What a paper tells beside the check itself.
struct Needs {
    bool fields = false;     ///< maps
    bool validation = false; ///< cases computed again
    bool trials = false;     ///< one thing otherwise; of a piece that fails, what would help
    bool proof = false;      ///< what the gauges of a proof test should read
    bool band = false;       ///< how far such tops scatter
};

Needs needs_of(Paper paper, bool quick) {
    const bool all = paper == Paper::all, judged = all || paper == Paper::engineer;
    return {.fields = judged,
            .validation = judged,
            .trials = judged && !quick,
            .proof = all && !quick,
            .band = all && !quick};
}

/// Those that may be done at once; what is short stands last.
void do_at_once(int threads, const std::vector<std::function<void()>>& tasks) {
    share_out(static_cast<int>(tasks.size()), threads_for(threads),
              [&](int task, int) { tasks[static_cast<std::size_t>(task)](); });
}

/// Fills all of the input that is computed. Each task fills fields of its own.
void compute(ReportInput& input, const Settings& settings, const Needs& needs,
             const std::optional<VariantSpace>& space, const std::string& file) {
    const int threads = settings.check.threads;
    try {
        Progress bar(file, settings.bar_wanted);
        CheckOptions check = settings.check;
        check.want_fields = needs.fields;
        check.progress = [&](double share) { bar.show(0.4 * share); };
        CheckOutcome outcome;
        std::vector<std::function<void()>> tasks{[&] { outcome = check_piece(input.piece, check); }};
        if (needs.validation) tasks.push_back([&] { input.validation = validated(settings.check); });
        tasks.push_back([&] { input.seasons = seasons_where_known(input.piece, threads); });
        do_at_once(threads, tasks);
        bar.show(0.4);
        tasks.clear();
        if (needs.trials)
            tasks.push_back([&] { input.trials = trials_of(outcome, settings.check, needs.proof); });
        if (needs.band) tasks.push_back([&] { input.band = band_where_known(outcome, settings.check); });
        do_at_once(threads, tasks);
        bar.show(0.6);
        // sought as check seeks it, and as that tells it
        if (!outcome.result.passes && input.trials) {
            CheckOptions seeking = settings.check;
            seeking.progress = [&](double share) { bar.show(0.6 + 0.3 * share); };
            Remedies found = remedies_for(input.piece, outcome, seeking);
            outcome.result.remedies = std::move(found.changes);
            outcome.result.solid_too = std::move(found.solid_too);
        }
        bar.show(0.9);
        input.by_hand = by_hand_of(outcome);
        input.data = data_of(input.piece);
        input.result = std::move(outcome.result);
        if (outcome.fields) input.fields = std::move(*outcome.fields);
        input.result.cautions = cautions_of(input.piece);
        if (space) judge_variants(*space, settings.check, input);
        input.n_built_in_cases = validation::built_in_cases().size();
    } catch (Error& error) {
        error = in_words(error, input.units);
        if (error.file.empty()) error.file = file;
        throw;
    }
}

Status run(const Given& given) {
    const std::string& file = given.names.front();
    ReportInput input;
    input.piece = load_piece(file);
    input.text = read_file(file);
    input.asked = asked_of_json(input.text);
    input.file = std::filesystem::path(file).filename().string();
    const Settings settings = settings_of(given);
    input.units = settings.units.value_or(input.piece.units);
    input.date = date_of(given);
    input.cutter = cutter_of(given, input.units);
    input.paper = paper_of(given);
    try {
        input.photographs = photographs_of(input.asked, file);
    } catch (Error& error) {
        error.file = file;
        throw;
    }
    input.command = command_of(given, input.file);
    const std::string out = out_file_of(given);
    ensure_apart({file}, {{page_option.name, out}, {json_option.name, settings.json_file}});
    if (out != "-") ensure_writable(out, page_option.name);
    const std::string folder =
        given.has(pictures_option.name) ? given.options.at(pictures_option.name) : std::string();
    if (given.has(pictures_option.name) && !std::filesystem::is_directory(folder))
        throw Error(ErrorKind::input, Fault{pictures_option.name, cli::in_quotes(folder) + " is no folder",
                                            "name a folder that is there"});
    const std::optional<VariantSpace> space = space_of(given, input.piece);
    compute(input, settings, needs_of(input.paper, given.has(quick_option.name)), space, file);
    const std::string json = settings.json_file.empty() ? std::string()
                                                        : to_json(input.result, input.trials, input.data,
                                                                  input.band ? &*input.band : nullptr);
    const bool passes = input.result.passes;
    const std::string page = report_html(std::move(input));
    std::vector<Output> outputs;
    if (!folder.empty())
        for (const Picture& picture : pictures_of(page))
            outputs.push_back({folder + "/" + picture.name + ".svg", pictures_option.name, picture.svg});
    add_json(outputs, settings.json_file, json);
    outputs.push_back({out, page_option.name, page});
    if (!settings.quiet && out != "-" && !settings.json_to_output())
        outputs.push_back(
            {"-", "",
             "wrote " + out + ": the piece " + (passes ? "meets" : "does not meet") + " the limits set\n"});
    write_files(outputs);
    return passes ? Status::passes : Status::fails;
}

} // namespace

extern const Command report_command{
    .name = "report",
    .one_line = "the report for a client piece (one self-contained HTML file)",
    .names = "PIECE",
    .least_names = 1,
    .most_names = 1,
    .text = "Checks the piece and writes what the client, the maker at the bench and a reviewing engineer "
            "hold in their hands: the verdict and what governs, drawings with "
            "dimensions, weight, pictures of movement and stress, every check with its basis and source, the "
            "seasons, a bench page, how sure the numbers are, cautions, and the "
            "input in full. One page without script or network, for a screen or for paper (A4 or Letter). "
            "For whom and what was asked: \"report\" in the piece file.\n"
            "Exit status: 0 every check passes, 1 a check fails, 2 the input is wrong, 3 it could not be "
            "computed.",
    .example = "hollowtop report docs/examples/reading_table.json\n"
               "hollowtop report --out oak_desk.html --date 2026-05-14 --cutter 16mm desk.json",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
