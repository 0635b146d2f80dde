// SPDX-License-Identifier: MIT
// Which of many variants of a piece is the best?
//   1. read the piece, what to vary, and every option: a fault here, and nothing is computed or written
//   2. where a run is gone on with, read what it has done
//   3. judge variant by variant, each as fully as `check`; write each line as it is done
//   4. rank, tell, draw
#include "cli/commands/added_bar.hpp"
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/commands/vary.hpp"
#include "cli/files/files.hpp"
#include "cli/files/interrupt.hpp"
#include "cli/files/line_file.hpp"
#include "cli/files/sha256.hpp"
#include "cli/json/study_lines.hpp"
#include "cli/read/piece_file.hpp"
#include "cli/report/drawing/compare_chart.hpp"
#include "cli/text/compare_text.hpp"
#include "cli/text/progress.hpp"
#include "cli/words/cautions.hpp"
#include "cli/words/format.hpp"
#include "cli/words/messages.hpp"
#include "cli/words/quantity.hpp"
#include "cli/words/said.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"
#include "solver/numeric/threads.hpp"
#include "solver/piece/version.hpp"
#include "solver/variants/judge_each.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>
#include <map>

namespace hollowtop::cli {
namespace {

// clang-format off
constexpr Option vary_option{"--vary", "KEY=VALUES", "what to vary, such as \"depth=16..26 step 2\"; may be given several times: every combination is judged", true};
constexpr Option add_option{"--add", "STIFFENER", "a stiffener that the piece does not have, such as \"angle 30x30x3 at y=350 screws 4.5x15\"; may be given several times", true};
constexpr Option sort_option{"--sort", "WISH", "lightest (where not given), stiffest or cheapest first", false, "", "lightest stiffest cheapest"};
constexpr Option under_option{"--under", "WEIGHT", "rank only what weighs no more, such as 30 (kg) or \"66 lb\""};
constexpr Option price_option{"--price", "LIST", "prices of the stiffeners: \"metre=4, kilo=2.5, screw=0.1\""};
constexpr Option sample_option{"--sample", "N", "judge only N of the combinations, drawn by chance but alike every time"};
constexpr Option seed_option{"--seed", "NUMBER", "draw another sample (1 where not given)"};
constexpr Option part_option{"--part", "I/N", "judge the I-th of N parts of the variants; the files of the parts, one after the other, hold the whole"};
constexpr Option rows_option{"--rows", "N", "length of the table (12 where not given)"};
constexpr Option csv_option{"--csv", "FILE", "write every variant to FILE, a line each as it is done (- for standard output, in place of the text)"};
constexpr Option lines_option{"--json", "FILE", "the same as JSON, an object a line (- for standard output, in place of the text)"};
constexpr Option chart_option{"--svg", "FILE", "draw weight against sag"};
constexpr Option resume_option{"--resume", "", "go on where the run that wrote the file of --csv was stopped; a file of another piece, mesh, choice or version is refused"};
constexpr Option seasons_option{"--seasons", "", "also follow each variant that can be made through its first two years: out of flat lying free and as it stands, boards by their rings, pull across the grain (advice; ranks nothing)"};
constexpr std::array<Option, 21> options{seasons_option, vary_option, add_option, sort_option, under_option, price_option, sample_option, seed_option, part_option, rows_option,
                                         csv_option, lines_option, chart_option, resume_option, units_option, mesh_option, threads_option,
                                         out_option, quiet_option, no_color_option, help_option};
// clang-format on

[[noreturn]] void refuse(const Option& option, std::string what, std::string remedy) {
    throw Error(ErrorKind::input, Fault{option.name, std::move(what), std::move(remedy)});
}

std::optional<std::uint64_t> whole_number(std::string_view text) {
    std::uint64_t value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return value;
}

std::uint64_t number_of(const Given& given, const Option& option, std::uint64_t otherwise,
                        std::uint64_t least, std::uint64_t most) {
    if (!given.has(option.name)) return otherwise;
    const std::string& text = given.options.at(option.name);
    const auto value = whole_number(text);
    if (!value || *value < least || *value > most)
        refuse(option, in_quotes(text) + " is no number for this",
               "give a whole number from " + std::to_string(least) + " to " + std::to_string(most));
    return *value;
}

VariantSpace space_of(const Given& given, const Piece& piece) {
    if (!given.has(vary_option.name))
        refuse(vary_option, "nothing is varied",
               R"(give for example --vary "depth=16..26 step 2"; see hollowtop compare --help)");
    std::vector<Axis> axes;
    for (const std::string& text : parted(given.options.at(vary_option.name), '\n'))
        axes.push_back(read_axis(text, piece));
    for (std::size_t a = 0; a < axes.size(); ++a) {
        for (std::size_t b = 0; b < a; ++b)
            if (axes[a].name == axes[b].name)
                refuse(vary_option, in_quotes(axes[a].name) + " is varied twice",
                       "put all its values into one list");
        const bool renames = axes[a].name == "number";
        const auto speaks_of_one = [](const Axis& axis) { return axis.name.find('.') != std::string::npos; };
        for (const Axis& other : axes)
            if (renames && speaks_of_one(other) && other.rank > axes[a].rank)
                refuse(vary_option,
                       in_quotes(other.name) + " speaks of one stiffener, but their number is varied too",
                       "vary " + in_quotes(other.name.substr(other.name.rfind('.') + 1)) + " of all of them");
    }
    return make_space(piece, std::move(axes));
}

Prices prices_of(const Given& given) {
    Prices prices;
    if (!given.has(price_option.name)) return prices;
    constexpr const char* way = R"(write for example "metre=4, kilo=2.5, screw=0.1")";
    for (const std::string& item : parted(given.options.at(price_option.name), ',')) {
        const std::size_t equals = item.find('=');
        const std::size_t start = item.find_first_not_of(' ');
        if (equals == std::string::npos || start == std::string::npos)
            refuse(price_option, in_quotes(item) + " is no price", way);
        const std::string key = item.substr(start, item.find_last_not_of(' ', equals - 1) + 1 - start);
        const std::size_t digits = std::min(item.find_first_not_of(' ', equals + 1), item.size());
        const std::size_t last = item.find_last_not_of(' ') + 1;
        double price = 0;
        const auto [end, error] =
            std::from_chars(item.data() + digits, item.data() + std::max(last, digits), price);
        if (error != std::errc{} || end != item.data() + std::max(last, digits) || !std::isfinite(price) ||
            price < 0)
            refuse(price_option, in_quotes(item) + " is no price", way);
        if (key == "metre" || key == "meter")
            prices.a_metre = price;
        else if (key == "kilo" || key == "kg")
            prices.a_kilo = price;
        else if (key == "screw")
            prices.a_screw = price;
        else
            refuse(price_option, in_quotes(key) + " has no price here", way);
    }
    return prices;
}

Preference wish_of(const Given& given, const Prices& prices) {
    if (!given.has(sort_option.name)) return Preference::lightest;
    const std::string& word = given.options.at(sort_option.name);
    if (word == "lightest") return Preference::lightest;
    if (word == "stiffest") return Preference::stiffest;
    if (word != "cheapest")
        refuse(sort_option, in_quotes(word) + " is not known here", "give lightest, stiffest or cheapest");
    if (!prices.any()) refuse(sort_option, "no price is given", R"(give --price too, such as "kilo=2.5")");
    return Preference::cheapest;
}

std::optional<double> most_kg_of(const Given& given) {
    if (!given.has(under_option.name)) return std::nullopt;
    const std::string& text = given.options.at(under_option.name);
    double kg = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), kg);
    if (error != std::errc{} || end != text.data() + text.size()) {
        try {
            kg = Force::parse(text).kgf();
        } catch (const Error&) {
            kg = 0;
        }
    }
    if (!(kg > 0) || !std::isfinite(kg))
        refuse(under_option, in_quotes(text) + " is no weight", "give kilograms, or a weight with its unit");
    return kg;
}

/// The variants to be judged, in order: all, or a sample; of these the part asked for.
struct Selection {
    std::vector<std::uint64_t> sample; ///< empty: all
    std::uint64_t from = 0, to = 0;    ///< places in the sample, or variants
    bool is_first_part = true;
    std::uint64_t at(std::uint64_t place) const {
        return sample.empty() ? place : sample[static_cast<std::size_t>(place)];
    }
};

Selection selection_of(const Given& given, std::uint64_t count) {
    Selection selection;
    constexpr std::uint64_t most_sampled = 10'000'000;
    const std::uint64_t seed = number_of(given, seed_option, 1, 0, UINT64_MAX);
    if (given.has(seed_option.name) && !given.has(sample_option.name))
        refuse(seed_option, "no sample is asked for", "give --sample too");
    std::uint64_t all = count;
    if (given.has(sample_option.name)) {
        selection.sample = sample_of(count, number_of(given, sample_option, 0, 1, most_sampled), seed);
        all = selection.sample.size();
    } else if (count > most_sampled && !given.has(part_option.name)) {
        refuse(vary_option, std::to_string(count) + " variants would take too long",
               "vary less, or take some of them with --sample");
    }
    std::uint64_t part = 1, parts = 1;
    if (given.has(part_option.name)) {
        const std::string& text = given.options.at(part_option.name);
        const std::vector<std::string> numbers = parted(text, '/');
        const auto i = whole_number(numbers.front()),
                   n = numbers.size() == 2 ? whole_number(numbers[1]) : std::nullopt;
        if (!i || !n || *n < 1 || *i < 1 || *i > *n || *n > 1'000'000)
            refuse(part_option, in_quotes(text) + " is no part", "write for example 1/4: the first of four");
        part = *i;
        parts = *n;
    }
    const auto cut = [&](std::uint64_t p) { return all * p / parts; }; // at most 10^12 times 10^6
    selection.from = cut(part - 1);
    selection.to = cut(part);
    selection.is_first_part = part == 1;
    return selection;
}

std::vector<std::string> labels_of(const VariantSpace& space, std::uint64_t variant) {
    std::vector<std::string> labels;
    const std::vector<std::size_t> choices = choices_of(space, variant);
    for (std::size_t a = 0; a < choices.size(); ++a)
        labels.push_back(as_drawn(space.axes[a].choices[choices[a]].label));
    return labels;
}

struct Files {
    std::string csv, json, svg;
};

Files files_of(const Given& given, const std::string& piece_file, const std::string& out_file) {
    Files files;
    const std::array<std::pair<const Option*, std::string*>, 3> all{
        {{&csv_option, &files.csv}, {&lines_option, &files.json}, {&chart_option, &files.svg}}};
    for (const auto& [option, file] : all) {
        if (!given.has(option->name)) continue;
        *file = given.options.at(option->name);
        if (*file == "-" && option != &chart_option) {
            if (option == &csv_option && given.has(resume_option.name))
                refuse(resume_option, "nothing was kept of what went to standard output",
                       "give --csv a file");
            if (option == &lines_option && files.csv == "-")
                refuse(lines_option, "standard output is that of --csv", "give one of them a file");
            continue;
        }
        ensure_writable(*file, option->name);
    }
    ensure_apart({piece_file}, {{csv_option.name, files.csv},
                                {lines_option.name, files.json},
                                {chart_option.name, files.svg},
                                {out_option.name, out_file}});
    if (given.has(resume_option.name) && files.csv.empty())
        refuse(resume_option, "no file says what is done",
               "give --csv with the file of the run that was stopped");
    return files;
}

/// What the lines depend on, besides the variant.
WrittenFor written_for(const Given& given, const std::string& piece_file) {
    const auto value = [&](const Option& option) {
        const auto found = given.options.find(option.name);
        return found == given.options.end() ? std::string() : found->second;
    };
    std::string settings;
    for (const Option& option : {vary_option, add_option, price_option})
        settings += std::string(option.name) + '\n' + value(option) + '\n';
    if (given.has(seasons_option.name)) settings += seasons_option.name;
    const std::string mesh = value(mesh_option);
    return {.version = program_version,
            .piece = sha256(read_file(piece_file)),
            .mesh = mesh.empty() ? "normal" : mesh,
            .settings = sha256(settings)};
}

/// Refuses a file that was written for something else.
void ensure_written_for(const WrittenFor& now, const std::string& line, const Option& option,
                        const std::string& file) {
    const auto then = read_written_for(line);
    if (!then)
        refuse(option, in_quotes(file) + " does not say what it was written for",
               "name a file that a run of this version began, or leave --resume out");
    if (*then != now)
        refuse(option,
               in_quotes(file) + " was written for something else: " + differences(*then, now) + " differ",
               "give the same piece and options as then, or name another file");
}

/// Reads what a run has done; gives how many variants that is, and tells the tally of each.
std::uint64_t take_up(const std::string& csv, const WrittenFor& now, const std::vector<std::string>& axes,
                      const VariantSpace& space, const Selection& selection, Tally& tally,
                      std::map<std::uint64_t, SeasonNumbers>& seasons, LineFile& file) {
    std::uint64_t place = selection.from;
    bool is_first = true, heading_due = selection.is_first_part;
    file.read([&](const std::string& line) {
        if (is_first || line.starts_with('#')) { // where parts were joined it comes again
            ensure_written_for(now, line, csv_option, csv);
            is_first = false;
            return true;
        }
        if (heading_due) {
            if (line + "\n" != csv_heading(axes))
                refuse(resume_option, in_quotes(csv) + " was written for other choices",
                       "give the same --vary as then, or another --csv");
            heading_due = false;
            return true;
        }
        const auto done = read_csv_line(line, axes.size());
        if (!done) return false; // cut off: judged again
        if (place >= selection.to || done->variant != selection.at(place) ||
            done->choices != labels_of(space, done->variant))
            refuse(resume_option, in_quotes(csv) + " was written for other choices",
                   "give the same piece and options as then, or another --csv");
        tally.add(done->variant, done->row, Message(done->problem));
        if (done->seasons) seasons.emplace(done->variant, *done->seasons);
        ++place;
        return true;
    });
    return place - selection.from;
}

/// Nothing where its seasons are not known: a sheet, another wood.
std::optional<SeasonNumbers> season_numbers_where_known(const Piece& piece, int threads) {
    try {
        return season_numbers(piece, threads);
    } catch (const Error&) {
        return std::nullopt;
    }
}

Status run(const Given& given) {
    const std::string& piece_file = given.names.front();
    Piece piece = load_piece(piece_file);
    if (given.has(add_option.name))
        for (const std::string& text : parted(given.options.at(add_option.name), '\n')) add_bar(piece, text);
    Given shared = given; // --json means another thing here
    shared.options.erase(lines_option.name);
    const Settings settings = settings_of(shared);
    const VariantSpace space = space_of(given, piece);
    const Prices prices = prices_of(given);
    CompareStory story{.wish = wish_of(given, prices),
                       .most_kg = most_kg_of(given),
                       .of_all = count_of(space),
                       .cautions = {},
                       .seasons = {}};
    const Selection selection = selection_of(given, story.of_all);
    constexpr std::size_t usual_rows = 12, most_rows = 1000;
    Tally tally({.wish = story.wish,
                 .most_kg = story.most_kg,
                 .shown = static_cast<std::size_t>(number_of(given, rows_option, usual_rows, 1, most_rows))});
    const Files files = files_of(given, piece_file, settings.out_file);
    std::vector<std::string> axes;
    for (const Axis& axis : space.axes) axes.push_back(axis.name);

    // what a run that was stopped has done
    std::optional<LineFile> csv, json;
    std::uint64_t done_before = 0;
    const bool resumes = given.has(resume_option.name);
    const WrittenFor now = written_for(given, piece_file);
    if (!files.csv.empty()) csv.emplace(files.csv, csv_option.name, resumes);
    if (resumes) done_before = take_up(files.csv, now, axes, space, selection, tally, story.seasons, *csv);
    if (!files.json.empty()) json.emplace(files.json, lines_option.name, resumes);
    if (json && resumes && files.json != "-") {
        std::uint64_t lines = 0;
        bool is_first = true;
        json->read([&](const std::string& line) {
            if (is_first || read_written_for(line)) {
                ensure_written_for(now, line, lines_option, files.json);
                is_first = false;
                return true;
            }
            return lines++ < done_before;
        });
        if (lines < done_before)
            refuse(lines_option, in_quotes(files.json) + " lacks variants that the file of --csv has",
                   "leave --resume out, or --json");
    }
    // standard output is not gone on with: there every line is a variant
    const bool keeps_csv = files.csv != standard_input, keeps_json = files.json != standard_input;
    if (csv && keeps_csv && csv->lines() == 0) csv->put(csv_written_for(now));
    if (csv && selection.is_first_part && csv->lines() == (keeps_csv ? 1 : 0)) csv->put(csv_heading(axes));
    if (json && keeps_json && json->lines() == 0) json->put(json_written_for(now));

    // judge
    // more than a 32-bit size holds would take a century
    const auto count = static_cast<std::size_t>(
        std::min<std::uint64_t>(selection.to - selection.from, std::numeric_limits<std::size_t>::max()));
    Interrupt interrupt;
    Progress bar(piece_file, settings.bar_wanted);
    const double before = count > 0 ? static_cast<double>(done_before) / static_cast<double>(count) : 0;
    JudgeEachOptions judging{.check = settings.check,
                             .first = static_cast<std::size_t>(done_before),
                             .stop = [&] { return interrupt.asked(); }};
    const auto piece_of = [&](std::size_t place) {
        return variant_of(space, selection.at(selection.from + place));
    };
    const bool asks_seasons = given.has(seasons_option.name);
    const std::size_t done = judge_each(count, piece_of, judging, [&](const Judged& one) {
        const std::uint64_t variant = selection.at(selection.from + one.index);
        VariantLine line{.variant = variant,
                         .choices = labels_of(space, variant),
                         .row = {},
                         .problem = as_drawn(one.problem)};
        if (one.result) line.row = row_of(*one.piece, *one.result, prices);
        if (line.row && asks_seasons) {
            line.seasons = season_numbers_where_known(*one.piece, threads_for(settings.check.threads));
            if (line.seasons) story.seasons.emplace(variant, *line.seasons);
        }
        if (csv) csv->put(csv_line(line));
        if (json) json->put(json_line(axes, line));
        tally.add(variant, line.row, one.problem);
        bar.show_time_left(static_cast<double>(one.index + 1) / static_cast<double>(count), before);
    });
    const bool stopped = done_before + done < count;

    // tell
    story.cautions.assign(cautions().begin(), cautions().end());
    if (!piece.recesses.empty())
        story.cautions.insert(story.cautions.end(), router_cautions().begin(), router_cautions().end());
    const TextStyle style = settings.style(piece.units);
    std::vector<Output> outputs;
    if (!files.svg.empty())
        outputs.push_back({files.svg, chart_option.name, compare_chart(tally, piece.title, style.units)});
    if (files.json != "-" && files.csv != "-")
        add_text(outputs, settings, compare_text(piece_file, space, tally, story, style));
    write_files(outputs);
    if (stopped) {
        show("stopped after " + std::to_string(done_before + done) + " of " + std::to_string(count) +
             " variants" +
             (files.csv.empty() ? std::string("; what is told above is of these")
                                : "; they are in " + files.csv +
                                      ", and the same command with --resume goes on from there"));
        return Status::not_computed;
    }
    return tally.passing() > 0 ? Status::passes : Status::fails;
}

} // namespace

extern const Command compare_command{
    .name = "compare",
    .one_line = "vary stiffener sizes, depths, rims; table, Pareto set, picture",
    .names = "PIECE",
    .least_names = 1,
    .most_names = 1,
    .text = "Judges every combination of what is varied, each as fully as \"check\" does, and ranks them: "
            "the lightest that meets the "
            "limits, the stiffest under a weight, or the cheapest; those that no other beats in weight and "
            "sag both; and what stops the "
            "rest.\n"
            "What can be varied: of the top wood, rings, moisture, length, thickness; the use; of recesses "
            "depth, skin, rim, lands; "
            "supports, supports_x, "
            "supports_y (how far they stand from the edges), hold_down; of stiffeners number, place, "
            "section, metal, "
            "spacing, holes and screw "
            "(\"4.5x18\"); for --seasons finish (of all faces), laid (the boards by their "
            "rings), slot_length and groove of stiffeners, and ends (width of breadboard ends, 0: none). "
            "A name before a key speaks of one part: well.depth, front.section.\n"
            "A list is parted by commas; a range is LOW..HIGH with \"step S\" or \"in N\". Of sections also "
            "\"all angles under 40\", "
            "\"all bars from 25 to 50\", \"all channels\", \"all tubes\".\n"
            "A quarter of the machine's memory is shared out among the threads, however many: what each "
            "keeps for "
            "the next variants stays within its part, and there are no more threads than have 320 MB each. "
            "Only one "
            "variant that by itself is larger goes beyond.\n"
            "Ctrl-C stops after the few variants under way and keeps what is done.\n"
            "Exit status: 0 a variant meets the limits, 1 none does, 2 the input is wrong, 3 not all was "
            "computed.",
    .example = "hollowtop compare --vary \"depth=16..26 step 2\" --vary \"rim=90,110,130\" "
               "docs/examples/reading_table.json\n"
               "hollowtop compare --vary \"section=all angles under 40\" --vary spacing=120,180 --svg "
               "chart.svg docs/examples/bench_top.json",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
