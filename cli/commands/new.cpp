// SPDX-License-Identifier: MIT
// Start a piece file: a few questions, or the same as options.
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
#include <functional>
#include <iostream>
#include <optional>
#include <unistd.h>

namespace hollowtop::cli {
namespace {

constexpr const char* base_words = "legs trestle pedestal wall cabinet";
constexpr const char* shape_words = "rectangle round oval slab corner";
// clang-format off
constexpr Option length_option{"--length", "LENGTH", "of the top"};
constexpr Option width_option{"--width", "LENGTH", "of the top"};
constexpr Option thickness_option{"--thickness", "LENGTH", "of the top, planed"};
constexpr Option wood_option{"--wood", "NAME", "the wood, as hollowtop materials lists it"};
constexpr Option use_option{"--use", "NAME", "what it is for, as hollowtop uses lists it: dining, desk, bench, shelf, counter, ..."};
constexpr Option base_option{"--base", "BASE", "what carries it: legs, trestle, pedestal, wall (brackets) or cabinet", false, "", base_words};
constexpr Option shape_option{"--shape", "SHAPE", "rectangle (where not given), round (its length is its diameter), oval, slab (edges as they grew) or corner (an L)", false, "", shape_words};
constexpr Option grain_option{"--grain", "DEGREES", "of the grain from the length: 0 along it (where not given), 90 across"};
constexpr Option file_option{"--out", "FILE", "the piece file to write, which must not be there yet (where not given: standard output)", false, "-o"};
constexpr Option keep_option{"--keep", "", "write the file even where the top does not meet its limits"};
constexpr Option ask_option{"--ask", "", "ask for what is not given, though standard input is no terminal"};
constexpr Option new_units_option{"--units", "mm|in", "units of the file, and of what is typed without one (mm where not given)", false, "", "mm in"};
constexpr std::array<Option, 16> options{length_option, width_option, thickness_option, wood_option, use_option, shape_option, base_option, grain_option,
                                         new_units_option, file_option, keep_option, ask_option, threads_option, quiet_option, no_color_option, help_option};
// clang-format on

[[noreturn]] void refuse(const char* place, Message what, Message remedy) {
    throw Error(ErrorKind::input, Fault{place, std::move(what), std::move(remedy)});
}

/// Questions on standard error, answers from standard input: what is printed on standard output stays the
/// piece.
class Asker {
  public:
    Asker(bool asks, Units units) : asks_(asks), units_(units) {}

    /// What was typed as an option, else the answer to the question; asked again, and told why, while `take`
    /// throws.
    template <class Take> void ask(const Given& given, const Option& option, const std::string& question,
                                   const std::string& usual, Take take) {
        if (given.has(option.name)) {
            try {
                take(given.options.at(option.name));
            } catch (const Error& error) {
                throw Error(ErrorKind::input,
                            Fault{option.name, error.faults().front().what, error.faults().front().remedy});
            }
            return;
        }
        if (!asks_) {
            if (usual.empty() || option.name == length_option.name || option.name == width_option.name ||
                option.name == thickness_option.name || option.name == wood_option.name ||
                option.name == use_option.name)
                refuse(option.name, "this option is missing",
                       "give it, or run hollowtop new on a terminal (or with --ask) to be asked");
            take(usual);
            return;
        }
        constexpr int patience = 8;
        for (int i = 0; i < patience; ++i) {
            std::fputs((question + " [" + usual + "] ").c_str(), stderr);
            std::string answer;
            if (!std::getline(std::cin, answer)) {
                std::fputs("\n", stderr);
                refuse(option.name, "the answers ended before this question",
                       "answer all, or give it as an option");
            }
            while (!answer.empty() && std::isspace(static_cast<unsigned char>(answer.back())))
                answer.pop_back();
            try {
                take(answer.empty() ? usual : answer);
                return;
            } catch (const Error& error) {
                const Fault& fault = error.faults().front();
                std::fputs(("  " + in_words(fault.what, units_) +
                            (fault.remedy.empty() ? "" : "; " + in_words(fault.remedy, units_)) + "\n")
                               .c_str(),
                           stderr);
            }
        }
        refuse(option.name, "no answer could be understood", "give it as an option");
    }

  private:
    bool asks_;
    Units units_;
};

double typed_length(const std::string& text, Units units, double least, double most) {
    const bool is_bare = text.find_first_not_of("0123456789./ -") == std::string::npos;
    const double mm = Length::parse(is_bare ? text + (units == Units::mm ? " mm" : " in") : text).mm();
    if (mm < least || mm > most)
        refuse("", in_quotes(text) + " is out of reach here",
               said("give {}; is it of another unit? Write \"90 cm\" or \"35 in\"",
                    amounts({least, most}, " to ", Unit::mm, hollowtop::significant(4))));
    return mm;
}

Base base_of(const std::string& text) {
    static constexpr std::array<std::pair<std::string_view, Base>, 11> known{{{"legs", Base::legs},
                                                                              {"leg", Base::legs},
                                                                              {"four legs", Base::legs},
                                                                              {"trestle", Base::trestles},
                                                                              {"trestles", Base::trestles},
                                                                              {"pedestal", Base::pedestal},
                                                                              {"column", Base::pedestal},
                                                                              {"wall", Base::brackets},
                                                                              {"brackets", Base::brackets},
                                                                              {"cabinet", Base::cabinet},
                                                                              {"cabinets", Base::cabinet}}};
    std::string lower;
    for (const char c : text) lower += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    for (const auto& [word, base] : known)
        if (lower == word) return base;
    static constexpr std::array<std::string_view, 5> offered{"legs", "trestle", "pedestal", "wall",
                                                             "cabinet"};
    refuse("", in_quotes(text) + " is no base that is known here",
           "give " + listed(offered) + "; others you draw in the file");
}

struct Shaped {
    Plan plan = Plan::rectangle;
    bool is_round = false;
};
Shaped shape_of(const std::string& text) {
    static constexpr std::array<std::pair<std::string_view, Shaped>, 9> known{
        {{"rectangle", {}},
         {"round", {Plan::oval, true}},
         {"circle", {Plan::oval, true}},
         {"oval", {Plan::oval, false}},
         {"ellipse", {Plan::oval, false}},
         {"slab", {Plan::slab, false}},
         {"corner", {Plan::corner, false}},
         {"l", {Plan::corner, false}},
         {"l-shape", {Plan::corner, false}}}};
    std::string lower;
    for (const char c : text) lower += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    for (const auto& [word, shape] : known)
        if (lower == word) return shape;
    static constexpr std::array<std::string_view, 5> offered{"rectangle", "round", "oval", "slab", "corner"};
    refuse("", in_quotes(text) + " is no shape that is known here",
           "give " + listed(offered) + "; others you draw in the file");
}

/// The bases that go under such a top, as they are typed.
std::string bases_under(Plan plan) {
    std::string all;
    for (const Base base : {Base::legs, Base::trestles, Base::pedestal, Base::brackets, Base::cabinet})
        if (goes_under(base, plan)) all += (all.empty() ? "" : ", ") + std::string(to_word(base));
    return all;
}

/// A usual size of that use; common practice.
struct Usual {
    std::string_view use;
    double length, width, thickness;
    const char* base;
};
constexpr std::array<Usual, 10> usuals{{{"dining", 1800, 850, 38, "legs"},
                                        {"desk", 1500, 700, 32, "legs"},
                                        {"bench", 1200, 350, 40, "legs"},
                                        {"coffee_table", 1100, 600, 30, "legs"},
                                        {"counter", 1800, 640, 40, "cabinet"},
                                        {"hall_table", 1200, 350, 28, "legs"},
                                        {"meeting", 2200, 1000, 45, "trestle"},
                                        {"outdoor", 1600, 800, 40, "legs"},
                                        {"shelf", 900, 280, 32, "wall"},
                                        {"workbench", 1800, 650, 80, "legs"}}};

const Usual& usual_of(const std::string& use) {
    const auto found =
        std::find_if(usuals.begin(), usuals.end(), [&](const Usual& usual) { return usual.use == use; });
    return found == usuals.end() ? usuals.front() : *found;
}

Wish wish_of(const Given& given, Units units) {
    const bool asks =
        given.has(ask_option.name) || (::isatty(STDIN_FILENO) == 1 && ::isatty(STDERR_FILENO) == 1);
    Asker asker(asks, units);
    Wish wish{.units = units};
    const auto shown = [&](double mm) {
        return units == Units::mm ? significant(mm, 4) + " mm"
                                  : significant(std::round(Length::from_mm(mm).inches() * 4) / 4, 4) + " in";
    };
    std::string uses;
    for (const materials::Use& use : materials::uses()) uses += (uses.empty() ? "" : ", ") + use.id;
    asker.ask(given, use_option, "What is it for? (" + uses + ")", "dining",
              [&](const std::string& text) { wish.use = materials::find_use(text).id; });
    const Usual& usual = usual_of(wish.use);
    constexpr double shortest = 200, longest = 4000, narrowest = 150, widest = 2000, thinnest = 12,
                     thickest = 150;
    bool is_round = false;
    asker.ask(given, shape_option, "What shape? (rectangle, round, oval, slab, corner)", "rectangle",
              [&](const std::string& text) {
                  const Shaped shape = shape_of(text);
                  wish.plan = shape.plan;
                  is_round = shape.is_round;
              });
    // a round top of the same area, to 50 mm or 2 in; an L as wide as three quarters of its length
    const double rule = units == Units::mm ? 50 : Length::from_inches(2).mm(),
                 diameter = rule * std::round(std::sqrt(usual.length * usual.width) / rule),
                 wide =
                     wish.plan == Plan::corner ? rule * std::round(0.75 * usual.length / rule) : usual.width;
    asker.ask(given, length_option, is_round ? "What diameter?" : "How long is the top?",
              shown(is_round ? diameter : usual.length), [&](const std::string& text) {
                  wish.length = typed_length(text, units, shortest, is_round ? widest : longest);
              });
    if (is_round && !given.has(width_option.name))
        wish.width = wish.length;
    else
        asker.ask(given, width_option, "How wide?", shown(wide), [&](const std::string& text) {
            wish.width = typed_length(text, units, narrowest, wish.plan == Plan::corner ? longest : widest);
        });
    if (is_round && wish.width != wish.length)
        refuse(width_option.name, "a round top is as wide as long", "leave it out, or give --shape oval");
    asker.ask(
        given, thickness_option, "How thick, planed?", shown(usual.thickness),
        [&](const std::string& text) { wish.thickness = typed_length(text, units, thinnest, thickest); });
    asker.ask(given, wood_option, "Which wood? (hollowtop materials lists them)", "white oak",
              [&](const std::string& text) { wish.wood = materials::find_wood(text).id; });
    const std::string usual_base = is_round                                     ? "pedestal"
                                   : goes_under(base_of(usual.base), wish.plan) ? usual.base
                                                                                : "legs";
    asker.ask(given, base_option, "What carries it? (" + bases_under(wish.plan) + ")", usual_base,
              [&](const std::string& text) {
                  wish.base = base_of(text);
                  if (!goes_under(wish.base, wish.plan))
                      refuse("", in_quotes(text) + " is not drawn under such a shape",
                             "give one of these: " + bases_under(wish.plan) +
                                 "; others you draw in the file");
              });
    asker.ask(given, grain_option, "How does the grain run? (0 along the length, 90 across it, or degrees)",
              "0", [&](const std::string& text) {
                  wish.grain_deg = parse_degrees(text);
                  if (!(wish.grain_deg >= -180 && wish.grain_deg <= 180))
                      refuse("", in_quotes(text) + " is no direction",
                             "give degrees from -180 to 180, 0 along the length");
              });
    return wish;
}

std::string title_of(const Wish& wish) {
    const std::string name = materials::find_use(wish.use).name;
    std::string title = name + ", " + materials::find_wood(wish.wood).common_name + ", " + in_a_title(wish) +
                        dimension_text(wish.length, wish.units) + " x " +
                        dimension_text(wish.width, wish.units) + " x " +
                        dimension_text(wish.thickness, wish.units) + ", on " + in_a_title(wish.base);
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

Status run(const Given& given) {
    const std::string file = given.has(file_option.name) && given.options.at(file_option.name) != "-"
                                 ? given.options.at(file_option.name)
                                 : std::string();
    Given common = given; // the file of the piece is no file of a text
    common.options.erase(file_option.name);
    Settings settings = settings_of(common);
    const Units units = settings.units.value_or(Units::mm);
    if (!file.empty() && std::filesystem::exists(file))
        refuse(file_option.name, in_quotes(file) + " is there already", "name another file");
    if (!file.empty()) ensure_writable(file, file_option.name);
    Wish wish;
    Start start;
    Tried best;
    try {
        wish = wish_of(given, units);
        Progress bar("new", settings.bar_wanted);
        bar.show(0.1);
        start = start_of(wish, settings.check);
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
            "Exit status: 0 written and it passes, 1 it does not pass, 2 the input is wrong, 3 it could not "
            "be computed.",
    .example = "hollowtop new\n"
               "hollowtop new --use dining --shape round --length 1100 --thickness 32 --wood \"white ash\"\n"
               "hollowtop new --use dining --length 1900 --width 850 --thickness 42 --wood \"black cherry\" "
               "--base legs --out table.json",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
