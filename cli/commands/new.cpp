// SPDX-License-Identifier: MIT
// Start a piece file: a few questions, or the same as options.
#include "cli/commands/new_questions.hpp"
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/files/files.hpp"
#include "cli/read/piece_file.hpp"
#include "cli/text/page.hpp"
#include "cli/text/piece_text.hpp"
#include "cli/text/progress.hpp"
#include "cli/words/cautions.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"
#include "materials/uses.hpp"
#include "materials/wood.hpp"
#include "solver/check/check_piece.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <optional>

namespace hollowtop::cli {
namespace {

using namespace new_piece;

// clang-format off
constexpr Option quick_option{
    "--quick", "", "write what was sought on a rough mesh, without the check of it: hollowtop check then says whether it meets its limits"};
constexpr std::array<Option, 17> options{length_option, width_option, thickness_option, wood_option, use_option, shape_option, base_option, grain_option,
                                         new_units_option, file_option, keep_option, quick_option, ask_option, threads_option, quiet_option, no_color_option, help_option};
// clang-format on

std::string title_of(const Wish& wish) {
    const std::string name = materials::find_use(wish.use).name;
    std::string title = name + ", " + materials::find_wood(wish.wood).common_name + ", " + in_a_title(wish) +
                        dimension_text(wish.length, wish.units) + " x " +
                        dimension_text(wish.width, wish.units) + " x " +
                        dimension_text(wish.thickness, wish.units) + ", on " +
                        (wish.plan == Plan::corner ? "six legs" : in_a_title(wish.base)); // it has legs alone
    title[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(title[0])));
    return title;
}

/// The piece as its file says it, checked as `check` checks it.
struct Tried {
    std::string text;
    Piece piece;
    std::optional<CheckOutcome> outcome;
    std::string problem; ///< why there is none
};

Tried tried(const Wish& wish, const Start& start, CheckOptions check) {
    check.essentials = check.no_advice = true; // every verdict, nothing that no verdict reads
    Tried one;
    one.text = piece_text(wish, start, title_of(wish));
    one.piece = piece_of_json(one.text);
    try {
        one.outcome = check_piece(one.piece, check);
    } catch (const Error& error) {
        one.problem = in_words(error.faults().front().what, wish.units);
    }
    return one;
}

/// What would make it hold, each seen by a full check.
void put_ways(Page& page, const Wish& wish, const Tried& best, const CheckOptions& check) {
    if (!best.outcome) {
        page.labelled("Why", best.problem);
    } else {
        const Result& result = best.outcome->result;
        page.labelled("Why", result.governing_check + " is at " +
                                 utilisation_text(result.governing_utilisation) +
                                 " of what is allowed, in \"" +
                                 in_words(result.governing_situation, wish.units) + "\"");
    }
    const Instead instead = instead_of(wish, check);
    int told = 0;
    const auto tell = [&](const Wish& other, const std::string& words) {
        const Start solid{.piece = solid_start(other)};
        const Tried one = tried(other, solid, check);
        if (!one.outcome || !one.outcome->result.passes) return;
        page.labelled(told++ == 0 ? "Enough is" : "or",
                      words + ": " + mass_text(one.outcome->result.mass.total_kg, wish.units) + "; " +
                          one.outcome->result.governing_check + " then at " +
                          utilisation_text(one.outcome->result.governing_utilisation));
    };
    if (instead.thickness) {
        Wish thicker = wish;
        thicker.thickness = *instead.thickness;
        tell(thicker, "a solid top of " + dimension_text(*instead.thickness, wish.units));
    }
    if (instead.base) {
        Wish other = wish;
        other.base = *instead.base;
        tell(other, std::string("the same top, solid, on ") + in_a_title(*instead.base));
    }
    if (told == 0)
        page.labelled(
            "No way found",
            "neither a much thicker top nor another base is enough: more supports, or a shorter top");
}

void put_found(Page& page, const Wish& wish, const Start& start, const Result& result,
               const std::string& file) {
    page.paragraph((file.empty() ? std::string("The piece") : file) + ": " + title_of(wish));
    page.paragraph(result.passes ? "This top meets the limits set."
                                 : "This top does not meet the limits set.",
                   0, result.passes ? Tone::good : Tone::bad);
    if (start.depth > 0)
        page.labelled("Hollowed", dimension_text(start.depth, wish.units) + " deep, a skin of " +
                                      dimension_text(wish.thickness - start.depth, wish.units) + ": " +
                                      mass_text(result.mass.saved_kg, wish.units) + " saved of " +
                                      mass_text(result.mass.solid_kg, wish.units));
    else
        page.labelled(
            "Solid", recesses_of(wish, 1).empty()  ? "there is no room for a recess beside what carries it"
                     : deepest_sensible(wish) <= 0 ? "too thin to be hollowed: a skin of " +
                                                         dimension_text(12, wish.units) + " would not be left"
                                                   : "no recess worth cutting leaves a tenth in hand");
    if (start.iron > 0)
        page.labelled("Iron", std::to_string(start.piece.stiffeners.size()) +
                                  (start.iron == 1 ? " bar, " : " bars, ") +
                                  start.piece.stiffeners.front().section + ", " +
                                  mass_text(result.mass.stiffeners_kg, wish.units));
    page.labelled("Nearest",
                  result.governing_check + " at " + utilisation_text(result.governing_utilisation) +
                      " of what is allowed, in \"" + in_words(result.governing_situation, wish.units) + "\"");
}

/// Sought and not checked: nothing is said of whether it holds.
Status put_sought(const Wish& wish, const Start& start, const std::string& file, const Settings& settings) {
    const std::string text = piece_text(wish, start, title_of(wish));
    if (file.empty())
        print(text);
    else
        write_file(file, file_option.name, text);
    if (settings.quiet) return Status::passes;
    Page page;
    page.paragraph((file.empty() ? std::string("The piece") : file) + ": " + title_of(wish));
    page.labelled("Not checked",
                  "sought on a rough mesh (--quick); whether it meets its limits a check says: "
                  "hollowtop check " +
                      (file.empty() ? std::string("PIECE") : file));
    page.paragraph("A calculation for furniture, not a test: load the finished top with known weights before "
                   "it is delivered; where a code applies, it and a licensed engineer decide.");
    const std::string words = page.text(settings.coloured && !file.empty());
    if (file.empty())
        std::fputs(words.c_str(), stderr);
    else
        print(words);
    return Status::passes;
}

Status run(const Given& given) {
    const std::string file = given.has(file_option.name) && given.options.at(file_option.name) != "-"
                                 ? given.options.at(file_option.name)
                                 : std::string();
    Given common = given; // the file of the piece is no file of a text
    common.options.erase(file_option.name);
    Settings settings = settings_of(common);
    const Units units = settings.units.value_or(Units::mm);
    if (!file.empty() && std::filesystem::exists(file))
        refuse_wish(file_option.name, in_quotes(file) + " is there already", "name another file");
    if (!file.empty()) ensure_writable(file, file_option.name);
    Wish wish;
    Start start;
    Tried best;
    try {
        wish = wish_of(given, units);
        Progress bar("new", settings.bar_wanted);
        bar.show(0.1);
        start = start_of(wish, settings.check);
        if (given.has(quick_option.name)) return put_sought(wish, start, file, settings);
        bar.show(0.6);
        best = tried(wish, start, settings.check);
        constexpr int most_steps = 3;
        for (int i = 0; i < most_steps && !(best.outcome && best.outcome->result.passes); ++i) {
            if (i == most_steps - 1)
                start.depth = std::min(start.depth, 1.0); // the last try is the solid top
            if (!step_back(wish, start)) break;
            best = tried(wish, start, settings.check);
        }
    } catch (Error& error) {
        error = in_words(error, units);
        if (error.file.empty()) error.file = "hollowtop new";
        throw;
    }
    const bool passes = best.outcome && best.outcome->result.passes;
    const bool writes = passes || given.has(keep_option.name);
    Page page;
    if (passes) {
        put_found(page, wish, start, best.outcome->result, file);
    } else {
        page.paragraph(title_of(wish) + ": solid and with iron, it does not meet the limits of \"" +
                           wish.use + "\".",
                       0, Tone::bad);
        put_ways(page, wish, best, settings.check);
        page.labelled(writes ? "Kept" : "Not written",
                      writes ? "as it is (--keep)" : "--keep writes the file all the same");
    }
    if (writes && file.empty()) print(best.text);
    if (writes && !file.empty()) write_file(file, file_option.name, best.text);
    if (writes && !file.empty()) page.labelled("Next", "change what is yours, then: hollowtop check " + file);
    page.paragraph("A calculation for furniture, not a test: load the finished top with known weights before "
                   "it is delivered; where a code "
                   "applies, it and a licensed engineer decide.");
    if (!settings.quiet) {
        const std::string text = page.text(settings.coloured && !file.empty());
        if (file.empty())
            std::fputs(text.c_str(), stderr);
        else
            print(text);
    }
    if (passes) return Status::passes;
    return best.outcome ? Status::fails : Status::not_computed;
}

} // namespace

extern const Command new_command{
    .name = "new",
    .one_line = "start a piece file: a few questions, or the same as options",
    .names = "",
    .least_names = 0,
    .most_names = 0,
    .text = "Writes a piece file for your size, wood and use: supports where such a base has them, a rim "
            "that stands on them, a recess as "
            "deep as the use lets it be, and angles of steel where the wood alone does not do. What is "
            "written has passed its own "
            "check; where nothing passes, it says what would, and writes nothing. On a terminal it asks for "
            "what is not given; "
            "Enter takes what stands in brackets. A number without a unit is in --units.\n"
            "It is a start: base, joints and the real board are yours to draw and measure. It draws "
            "rectangles, round and oval tops, an L (--shape corner), and a slab whose edges are invented "
            "until you "
            "measure yours; others you draw in the file (\"outline\"), and hollowtop check says whether they "
            "still "
            "meet their limits.\n"
            "Exit status: 0 written and it passes (with --quick: written), 1 it does not pass, 2 the input "
            "is wrong, 3 it could not "
            "be computed.",
    .example = "hollowtop new\n"
               "hollowtop new --use dining --shape round --length 1100 --thickness 32 --wood \"white ash\"\n"
               "hollowtop new --use dining --length 1900 --width 850 --thickness 42 --wood \"black cherry\" "
               "--base legs --out table.json",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
