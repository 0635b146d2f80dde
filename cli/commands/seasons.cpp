// SPDX-License-Identifier: MIT
// How does this top go through its first year?
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/files/files.hpp"
#include "cli/json/year_json.hpp"
#include "cli/read/piece_file.hpp"
#include "cli/text/year_text.hpp"
#include "cli/words/cautions.hpp"
#include "cli/words/said.hpp"
#include "materials/error.hpp"
#include "solver/numeric/threads.hpp"

#include <array>

namespace hollowtop::cli {
namespace {

constexpr Option csv_option{"--csv", "FILE", "write a row a month to FILE, for a spreadsheet"};
constexpr Option card_option{
    "--card", "FILE",
    "write a card for the client to FILE: where not to stand it, how wide it is by the month"};
constexpr Option sanding_option{
    "--sanding", "",
    "also check the top with its show face 0.5, 1 and 2 mm lower: how much the skin can be sanded"};
constexpr Option full_option{"--full", "", "say all: what is taken for granted, every caution"};
constexpr std::array<Option, 11> options{json_option,    csv_option,      card_option,    full_option,
                                         sanding_option, units_option,    threads_option, out_option,
                                         quiet_option,   no_color_option, help_option};

std::string file_of(const Given& given, const Option& option) {
    if (!given.has(option.name)) return {};
    const std::string& file = given.options.at(option.name);
    if (file == "-")
        throw Error(ErrorKind::input, Fault{option.name, "is not written to standard output", "name a file"});
    ensure_writable(file, option.name);
    return file;
}

Status run(const Given& given) {
    const std::string& file = given.names.front();
    const Piece piece = load_piece(file);
    const Settings settings = settings_of(given);
    const std::string csv = file_of(given, csv_option), card = file_of(given, card_option);
    ensure_apart(given.names, {{json_option.name, settings.json_file},
                               {out_option.name, settings.out_file},
                               {csv_option.name, csv},
                               {card_option.name, card}});
    const TextStyle style = settings.style(piece.units);
    YearOfTop year;
    try {
        year = year_of_top(piece, {.threads = threads_for(settings.check.threads)});
    } catch (Error& error) {
        error = in_words(error, style.units);
        error.file = file;
        throw;
    }
    std::vector<Sanded> sanding;
    if (given.has(sanding_option.name)) sanding = sanding_reserve(piece, threads_for(settings.check.threads));
    std::vector<Output> outputs;
    add_json(outputs, settings.json_file, year_json(piece, year, sanding, cautions()));
    if (!csv.empty()) outputs.push_back({csv, csv_option.name, year_csv(year)});
    if (!card.empty())
        outputs.push_back(
            {card, card_option.name, care_card(piece, year, {.units = style.units, .coloured = false})});
    add_text(outputs, settings,
             year_text(file, piece, year, sanding, cautions(), given.has(full_option.name), style));
    write_files(outputs);
    return Status::passes;
}

} // namespace

extern const Command seasons_command{
    .name = "seasons",
    .one_line = "the first year: skin and rim drying apart, bow, boards by their rings",
    .names = "PIECE",
    .least_names = 1,
    .most_names = 1,
    .text =
        "Follows the moisture through skin and rim from the day the piece moves in, day by day, under the "
        "finish of each face (\"top\": {\"finish\": ...}) and in the air of \"climate\", and says how far "
        "the "
        "top bows and when, how hard the wood is pulled across the grain, how the boards cup by their rings, "
        "and what would help. Advice: how quick moisture goes through wood and finish is known to a factor "
        "of two. The top is taken lying free; what screws and glue hold back, movement says.\n"
        "Exit status: 0 it was computed (nothing here is judged), 2 the input is wrong, 3 it could not be "
        "computed.",
    .example = "hollowtop seasons docs/examples/reading_table.json\n"
               "hollowtop seasons table.json --csv year.csv --card card.txt",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
