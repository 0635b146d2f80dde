// SPDX-License-Identifier: MIT
// How deep, or how wide, may the recesses be?
#include "cli/commands/added_bar.hpp"
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/files/files.hpp"
#include "cli/files/interrupt.hpp"
#include "cli/read/piece_file.hpp"
#include "cli/report/drawing/reach_chart.hpp"
#include "cli/text/deepest_text.hpp"
#include "cli/text/progress.hpp"
#include "cli/words/cautions.hpp"
#include "cli/words/messages.hpp"
#include "cli/words/quantity.hpp"
#include "cli/words/said.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"
#include "solver/variants/edits.hpp"

#include <algorithm>
#include <array>

namespace hollowtop::cli {
namespace {

constexpr Option recess_option{"--recess", "NAME",
                               "the recess that is meant (where not given: all of them, made alike)"};
constexpr Option widest_option{"--widest", "",
                               "seek the narrowest rim at the depth that is drawn, not the depth"};
constexpr Option skin_option{"--least-skin", "LENGTH",
                             "look no deeper than leaves this skin (6 mm where not given)"};
constexpr Option rim_option{"--least-rim", "LENGTH",
                            "look no wider than leaves this rim (30 mm where not given)"};
constexpr Option add_option{
    "--add", "STIFFENER",
    "a stiffener that the piece does not have, such as \"angle 30x30x3 at y=350 screws "
    "4.5x15\"; may be given several times",
    true};
constexpr Option chart_option{"--svg", "FILE", "draw how hard each check is used as the measure grows"};
constexpr std::array<Option, 14> options{
    add_option,   recess_option, widest_option,  skin_option, rim_option,   json_option,     chart_option,
    units_option, mesh_option,   threads_option, out_option,  quiet_option, no_color_option, help_option};

double least_of(const Given& given, const Option& option, double usual, Units units) {
    if (!given.has(option.name)) return usual;
    const std::string& text = given.options.at(option.name);
    const bool is_bare = text.find_first_not_of("0123456789./ -") == std::string::npos;
    double mm = 0;
    try {
        mm = Length::parse(is_bare ? text + (units == Units::mm ? " mm" : " in") : text).mm();
    } catch (const Error& error) {
        throw Error(ErrorKind::input,
                    Fault{option.name, error.faults().front().what, error.faults().front().remedy});
    }
    if (!(mm > 0))
        throw Error(ErrorKind::input,
                    Fault{option.name, in_quotes(text) + " leaves nothing", "give a length above zero"});
    return mm;
}

std::string subject_of(const Piece& piece, const std::string& name) {
    if (!name.empty()) return in_quotes(name);
    return piece.recesses.size() == 1 ? "the recess" : "every recess";
}

Status run(const Given& given) {
    const std::string& file = given.names.front();
    Piece piece = load_piece(file);
    if (given.has(add_option.name))
        for (const std::string& text : parted(given.options.at(add_option.name), '\n')) add_bar(piece, text);
    const Settings settings = settings_of(given);
    const std::string name =
        given.has(recess_option.name) ? given.options.at(recess_option.name) : std::string();
    const bool widest = given.has(widest_option.name);
    for (const auto& [option, fits] : {std::pair{&skin_option, !widest}, {&rim_option, widest}})
        if (given.has(option->name) && !fits)
            throw Error(ErrorKind::input,
                        Fault{option->name,
                              widest ? "the depth is not sought here" : "the rim is not sought here",
                              widest ? "leave --widest out" : "give --widest too"});
    constexpr double usual_skin = 6,
                     usual_rim = 30; // mm, common practice: less is a veneer, or an edge that breaks out
    const double least = widest ? least_of(given, rim_option, usual_rim, piece.units)
                                : least_of(given, skin_option, usual_skin, piece.units);
    const std::string svg =
        given.has(chart_option.name) ? given.options.at(chart_option.name) : std::string();
    if (!svg.empty()) ensure_writable(svg, chart_option.name);
    ensure_apart({file}, {{json_option.name, settings.json_file},
                          {out_option.name, settings.out_file},
                          {chart_option.name, svg}});

    Reach reach;
    double rim_drawn = 0, deepest_drawn = 0;
    try {
        reach = widest ? reach_of_width(piece, name, least) : reach_of_depth(piece, name, least);
        if (widest) rim_drawn = rim_of(piece, name);
    } catch (Error& error) {
        error = in_words(error, settings.style(piece.units).units);
        error.file = file;
        throw;
    }
    for (const Recess& recess : piece.recesses)
        if (name.empty() || recess.name == name) deepest_drawn = std::max(deepest_drawn, recess.depth);
    const auto piece_of = [&](double measure) {
        Piece changed = piece;
        if (widest)
            widen(changed, name, measure);
        else
            set_depth(changed, name, measure);
        return changed;
    };
    Interrupt interrupt;
    Progress bar(file, settings.bar_wanted);
    const JudgeEachOptions judging{
        .check = settings.check, .first = 0, .stop = [&] { return interrupt.asked(); }};
    const Farthest answer =
        farthest(reach, piece_of, judging, [&](double share) { bar.show_time_left(share); });
    if (answer.curve.empty() || (answer.stopped && !answer.passing)) {
        show("stopped before anything was found");
        return Status::not_computed;
    }

    DeepestStory story{.subject = subject_of(piece, name),
                       .widest = widest,
                       .shown = [=](double measure) { return widest ? rim_drawn - measure : measure; },
                       .skin = [=, thickness = piece.top.thickness](
                                   double measure) { return thickness - (widest ? deepest_drawn : measure); },
                       .least = least,
                       .cautions = {cautions().begin(), cautions().end()}};
    story.cautions.insert(story.cautions.end(), router_cautions().begin(), router_cautions().end());
    const TextStyle style = settings.style(piece.units);
    std::vector<Output> outputs;
    if (!svg.empty())
        outputs.push_back(
            {svg, chart_option.name,
             reach_chart(answer,
                         {.title = piece.title, .measure = widest ? "rim" : "depth", .shown = story.shown},
                         style.units)});
    if (!settings.json_file.empty())
        add_json(outputs, settings.json_file, deepest_json(piece.title, answer, story));
    add_text(outputs, settings, deepest_text(file, answer, story, style));
    write_files(outputs);
    if (answer.stopped) {
        show("stopped before the answer was bracketed; what is told is what was seen so far");
        return Status::not_computed;
    }
    const bool none_computed =
        !answer.passing && std::all_of(answer.curve.begin(), answer.curve.end(),
                                       [](const ReachPoint& point) { return !point.row; });
    if (none_computed) return Status::not_computed;
    return answer.passing ? Status::passes : Status::fails;
}

} // namespace

extern const Command deepest_command{
    .name = "deepest",
    .one_line = "the greatest recess depth that still passes, and what stops it",
    .names = "PIECE",
    .least_names = 1,
    .most_names = 1,
    .text = "Seeks the greatest depth of the recesses that meets the limits: scans the whole range, then "
            "closes in until one depth meets them and "
            "one a tenth of a millimetre deeper does not, both seen by a full check. Says what skin is left, "
            "what stops it, and how weight, "
            "sag and what is used hardest change on the way. With --widest: the narrowest rim at the depth "
            "that is drawn.\n"
            "A quarter of the machine's memory is shared out among the threads, as of \"compare\".\n"
            "Exit status: 0 a depth meets the limits, 1 none does, 2 the input is wrong, 3 it could not be "
            "computed.",
    .example = "hollowtop deepest docs/examples/reading_table.json\n"
               "hollowtop deepest --widest --svg rim.svg docs/examples/reading_table.json",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
