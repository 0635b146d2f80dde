// SPDX-License-Identifier: MIT
// The top as it was really routed, from thickness readings.
//   1. read the piece, the readings and every option: a fault here, and nothing is computed or written
//   2. make a field of each recess, check, mend, check
//   3. write the JSON, and the text or the page
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/files/files.hpp"
#include "cli/read/piece_file.hpp"
#include "cli/read/readings.hpp"
#include "cli/report/survey_page.hpp"
#include "cli/text/progress.hpp"
#include "cli/text/survey_text.hpp"
#include "cli/words/quantity.hpp"
#include "cli/words/said.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"

#include <array>

namespace hollowtop::cli {
namespace {

constexpr Option sheet_option{"--sheet", "",
                              "print the places to gauge, to take to the bench (needs no READINGS)"};
constexpr Option gauge_option{"--gauge", "SIZE",
                              "standard deviation of one reading, such as 0.1mm (where not given: that of "
                              "the readings' file, else 0.1mm, a depth rod; common practice)"};
constexpr Option foot_option{
    "--foot", "SIZE",
    "half the width of what the gauge stands on: nearer to a wall nothing is read (where not given: 6mm)"};
constexpr Option unit_option{
    "--readings-units",
    "mm|cm|in",
    "what a reading's number is that has no unit beside it (where not given: the piece file's units)",
    false,
    "",
    "mm cm in"};
constexpr Option keep_option{"--keep-all", "", "use readings that are out of line with their neighbours too"};
constexpr Option page_option{
    "--out", "FILE", "write the text to FILE, or a page with pictures where it ends in .html", false, "-o"};
constexpr std::array<Option, 13> options{
    sheet_option, gauge_option, foot_option,    unit_option,  keep_option,     page_option, json_option,
    units_option, mesh_option,  threads_option, quiet_option, no_color_option, help_option};

double size_of(const Given& given, const Option& option, double least, double most) {
    const std::string& text = given.options.at(option.name);
    double size = 0;
    try {
        size = Length::parse(text).mm();
    } catch (const Error&) {
        throw Error(ErrorKind::input,
                    Fault{option.name, in_quotes(text) + " is no length", "give one such as 0.2mm"});
    }
    if (!(size >= least && size <= most))
        throw Error(ErrorKind::input,
                    Fault{option.name, in_quotes(text) + " is out of reach",
                          said("give {} to {}", amount(least, Unit::mm), amount(most, Unit::mm))});
    return size;
}

const std::vector<Message>& survey_cautions() {
    static const std::vector<Message> all{
        "Between readings the skin is a guess with a band: a gouge there is not seen. Look with a strong "
        "lamp from below.",
        "A gauge that is off reads every place off as much, and no number of readings shows it: try a known "
        "block.",
        "A survey says how thick the wood is, not how good. Load the finished top with known weights."};
    return all;
}

Status run(const Given& given) {
    const std::string& file = given.names.front();
    const Piece piece = load_piece(file);
    const Settings settings = settings_of(given);
    const TextStyle style = settings.style(piece.units);
    SurveyOptions how;
    if (given.has(foot_option.name)) how.foot = size_of(given, foot_option, 0, 60);
    how.keep_all = given.has(keep_option.name);
    if (given.has(sheet_option.name)) {
        if (given.names.size() > 1)
            throw Error(ErrorKind::input,
                        Fault{sheet_option.name, "readings are given too", "leave one of them out"});
        put_text(settings, sheet_text(file, piece, sheet_points(piece, how.foot), style));
        return Status::passes;
    }
    if (given.names.size() < 2)
        throw Error(ErrorKind::input, Fault{"READINGS", "no file of readings is given",
                                            "name it, or print the places to gauge with --sheet"});
    if (piece.recesses.empty())
        throw Error(ErrorKind::input, Fault{"recesses", "the piece has none: there is no skin to survey",
                                            "give its measured thickness as \"thickness\" and check it"});
    const std::string& readings_file = given.names[1];
    const double mm = given.has(unit_option.name) ? mm_of_unit(given.options.at(unit_option.name))
                                                  : mm_of_unit(piece.units == Units::mm ? "mm" : "in");
    for (const std::string& name : given.names)
        if (!settings.json_file.empty() && !settings.json_to_output() &&
            is_same_file(settings.json_file, name))
            throw Error(ErrorKind::input,
                        Fault{json_option.name,
                              in_quotes(settings.json_file) + " is one of the files that are read",
                              "name another file"});
    SurveyAnswer answer;
    ReadingsFile readings;
    try {
        readings = readings_of(read_file(readings_file), mm);
        how.gauge_sd = given.has(gauge_option.name) ? size_of(given, gauge_option, 0.001, 20)
                                                    : readings.gauge_sd.value_or(how.gauge_sd);
        Progress bar(file, settings.bar_wanted);
        CheckOptions check = settings.check;
        check.want_fields = settings.out_file.ends_with(".html");
        check.progress = [&](double share) { bar.show_time_left(share); };
        answer = survey_and_check(piece, readings.readings, how, check);
    } catch (Error& error) {
        error = in_words(error, style.units);
        if (error.file.empty()) error.file = readings_file;
        throw;
    }
    const SurveyStory story{
        .file = file, .readings_file = readings_file, .notes = readings.notes, .cautions = survey_cautions()};
    std::vector<Output> outputs;
    if (!settings.json_file.empty()) add_json(outputs, settings.json_file, survey_json(piece, answer, story));
    if (settings.out_file.ends_with(".html"))
        outputs.push_back(
            {settings.out_file, page_option.name, survey_html(piece, answer, story, style.units)});
    else
        add_text(outputs, settings, survey_text(piece, answer, story, style));
    write_files(outputs);
    if (!answer.routed.result) return Status::not_computed;
    return answer.passes() ? Status::passes : Status::fails;
}

} // namespace

extern const Command survey_command{
    .name = "survey",
    .one_line = "check the top as it was really routed, from thickness readings",
    .names = "PIECE [READINGS]",
    .least_names = 1,
    .most_names = 2,
    .text = "A depth stop slips, a sled sags: the floor of a recess is not where it was drawn. From readings "
            "of its thickness (x, y, "
            "thickness: CSV of any kind, or JSON; one or thousands) survey makes the skin of each recess as "
            "it is, and how sure that "
            "is, and checks the top as drawn, as routed and at the low bound side by side: each place as "
            "thin as leaves one chance "
            "in twenty. It names thin places and what they cost, what mends them (a patch, levelling, a "
            "bar), each by checks of its "
            "own, and where to gauge next. Readings in the rim say how thick the board is, "
            "place by place.\n"
            "Readings off the top, on a wall, thicker than the board or out of line with their neighbours "
            "are named; one that is too "
            "thick is not used, one that is too thin is. A gauge's own zero is not seen: try it on a known "
            "block. Knots, shake and "
            "the quality of the wood are not seen either.\n"
            "Exit status: 0 it passes as routed and at the low bound, 1 it fails at one of them, 2 the input "
            "is wrong, 3 it could "
            "not be computed.",
    .example =
        "hollowtop survey --sheet docs/examples/reading_table.json\n"
        "hollowtop survey docs/examples/reading_table.json readings.csv --gauge 0.2mm --out survey.html",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
