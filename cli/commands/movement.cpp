// SPDX-License-Identifier: MIT
// What do the seasons do to this top?
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/files/files.hpp"
#include "cli/json/seasons_json.hpp"
#include "cli/read/piece_file.hpp"
#include "cli/text/seasons_text.hpp"
#include "cli/text/year_text.hpp"
#include "cli/words/cautions.hpp"
#include "cli/words/said.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"
#include "solver/numeric/threads.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>

namespace hollowtop::cli {
namespace {

constexpr Option difference_option{
    "--difference", "POINTS",
    "moisture of the top face above that of the underside, in points, for the cupping (1 where not given)"};
constexpr Option year_option{
    "--year", "", "also follow the first two years: the worst of each and a row a month, as seasons does"};
constexpr Option months_option{"--csv", "FILE", "with --year: write a row a month to FILE"};
constexpr std::array<Option, 10> options{year_option,     months_option,  json_option, difference_option,
                                         units_option,    threads_option, out_option,  quiet_option,
                                         no_color_option, help_option};

double difference_of(const Given& given) {
    if (!given.has(difference_option.name)) return SeasonOptions{}.face_difference_percent;
    const std::string& text = given.options.at(difference_option.name);
    double points = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), points);
    constexpr double most = 20;
    if (error != std::errc{} || end != text.data() + text.size() || !(points >= -most && points <= most))
        throw Error(ErrorKind::input,
                    Fault{difference_option.name, in_quotes(text) + " is no difference of moisture",
                          "give points from -20 to 20, such as 2"});
    return points;
}

std::vector<Message> cautions_of(const Piece& piece) {
    std::vector<Message> all(cautions().begin(), cautions().end());
    if (!piece.recesses.empty()) all.insert(all.end(), router_cautions().begin(), router_cautions().end());
    return all;
}

Status run(const Given& given) {
    const std::string& file = given.names.front();
    const Piece piece = load_piece(file);
    const Settings settings = settings_of(given);
    const SeasonOptions season_options{.face_difference_percent = difference_of(given),
                                       .threads = threads_for(settings.check.threads)};
    std::string csv;
    if (given.has(months_option.name)) {
        csv = given.options.at(months_option.name);
        if (!given.has(year_option.name))
            throw Error(ErrorKind::input,
                        Fault{months_option.name, "the months are of --year", "give --year too"});
        if (csv == "-")
            throw Error(ErrorKind::input,
                        Fault{months_option.name, "is not written to standard output", "name a file"});
        ensure_writable(csv, months_option.name);
        ensure_apart(given.names, {{json_option.name, settings.json_file},
                                   {out_option.name, settings.out_file},
                                   {months_option.name, csv}});
    }
    Seasons seasons;
    std::optional<YearOfTop> year;
    try {
        seasons = seasons_of(piece, season_options);
        if (given.has(year_option.name))
            year = year_of_top(piece, {.threads = season_options.threads, .briefly = true});
    } catch (Error& error) {
        error = in_words(error, settings.style(piece.units).units);
        error.file = file;
        throw;
    }
    const std::vector<Message> all_cautions = cautions_of(piece);
    std::vector<Output> outputs;
    if (!settings.json_file.empty())
        add_json(outputs, settings.json_file, to_json(piece, seasons, all_cautions, year ? &*year : nullptr));
    if (!csv.empty()) outputs.push_back({csv, months_option.name, year_csv(*year)});
    if (settings.text_wanted()) {
        const TextStyle style = settings.style(piece.units);
        add_text(outputs, settings,
                 seasons_text(file, piece, seasons, all_cautions, style) +
                     (year ? year_strip(*year, style) : std::string()));
    }
    write_files(outputs);
    return seasons.passes ? Status::passes : Status::fails;
}

} // namespace

extern const Command movement_command{
    .name = "movement",
    .one_line = "seasonal movement, slot lengths, gaps, cupping, restrained stress",
    .names = "PIECE",
    .least_names = 1,
    .most_names = 1,
    .text = "Reads a piece file and says how far the top moves across the grain between the dry and the damp "
            "season of its \"climate\", what play its screws, supports and covers need, how far it cups when "
            "one face is wetter than the other, and how hard the wood is stressed where round holes or glue "
            "hold it back.\n"
            "Exit status: 0 nothing is exceeded, 1 a hole as drawn is too tight or a stress is over what is "
            "allowed, 2 the input is wrong, 3 it could not be computed.",
    .example = "hollowtop movement docs/examples/reading_table.json\n"
               "hollowtop movement --difference 2 --units in desk.json\n"
               "hollowtop movement --year --csv year.csv table.json",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
