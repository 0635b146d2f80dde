// SPDX-License-Identifier: MIT
#include "cli/commands/new_questions.hpp"

#include "cli/read/piece_file.hpp"
#include "cli/text/piece_text.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"
#include "materials/uses.hpp"
#include "materials/wood.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstdio>
#include <iostream>
#include <string>
#include <unistd.h>

namespace hollowtop::cli::new_piece {

void refuse_wish(const char* place, Message what, Message remedy) {
    throw Error(ErrorKind::input, Fault{place, std::move(what), std::move(remedy)});
}

namespace {

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
                refuse_wish(option.name, "this option is missing",
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
                refuse_wish(option.name, "the answers ended before this question",
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
        refuse_wish(option.name, "no answer could be understood", "give it as an option");
    }

  private:
    bool asks_;
    Units units_;
};

double typed_length(const std::string& text, Units units, double least, double most) {
    const bool is_bare = text.find_first_not_of("0123456789./ -") == std::string::npos;
    const double mm = Length::parse(is_bare ? text + (units == Units::mm ? " mm" : " in") : text).mm();
    if (mm < least || mm > most)
        refuse_wish("", in_quotes(text) + " is out of reach here",
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
    refuse_wish("", in_quotes(text) + " is no base that is known here",
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
    refuse_wish("", in_quotes(text) + " is no shape that is known here",
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

} // namespace

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
        refuse_wish(width_option.name, "a round top is as wide as long",
                    "leave it out, or give --shape oval");
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
                      refuse_wish("", in_quotes(text) + " is not drawn under such a shape",
                                  "give one of these: " + bases_under(wish.plan) +
                                      "; others you draw in the file");
              });
    asker.ask(given, grain_option, "How does the grain run? (0 along the length, 90 across it, or degrees)",
              "0", [&](const std::string& text) {
                  wish.grain_deg = parse_degrees(text);
                  if (!(wish.grain_deg >= -180 && wish.grain_deg <= 180))
                      refuse_wish("", in_quotes(text) + " is no direction",
                                  "give degrees from -180 to 180, 0 along the length");
              });
    return wish;
}

} // namespace hollowtop::cli::new_piece
