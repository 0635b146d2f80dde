// SPDX-License-Identifier: MIT
#include "cli/commands/vary.hpp"

#include "cli/commands/vary_values.hpp"
#include "cli/words/format.hpp"
#include "cli/words/quantity.hpp"
#include "cli/words/said.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"
#include "materials/finish.hpp"
#include "materials/metal.hpp"
#include "materials/section.hpp"
#include "materials/uses.hpp"
#include "materials/wood.hpp"
#include "solver/variants/edits.hpp"
#include "solver/variants/season_edits.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <set>

namespace hollowtop::cli {
namespace {

std::vector<Choice> lengths(const Typed& t, const Piece& base,
                            void (*set)(Piece&, const std::string&, double), double least) {
    const LengthReader read{base.units};
    std::vector<Choice> choices;
    for (const double value : numbers_of(t.values, read)) {
        const double mm = read.as_labelled(value);
        if (!(mm > least)) refuse_vary(t.name + ": " + read.label(mm) + " is too little", "give more");
        choices.push_back(
            {read.choice(mm), [set, part = t.part, mm](Piece& piece) { set(piece, part, mm); }});
    }
    return choices;
}

/// "all angles under 40", "all channels", "all sections from 25 to 40".
std::vector<std::string> sections_of(const std::string& item) {
    if (item.rfind("all ", 0) != 0) {
        try {
            materials::parse_section(item);
        } catch (const Error& error) {
            refuse_vary(error.faults().front().what, error.faults().front().remedy);
        }
        return {item};
    }
    constexpr const char* way =
        R"(write for example "all angles under 40", "all angles from 25 to 40" or "all channels")";
    std::vector<std::string> words;
    for (std::size_t from = 0; from < item.size();) {
        const std::size_t space = std::min(item.find(' ', from), item.size());
        if (space > from) words.push_back(item.substr(from, space - from));
        from = space + 1;
    }
    struct Kind {
        const char* word;
        const char* in_table; ///< what its rows are called, or part of it
        const char* written;  ///< as a section is written
    };
    static constexpr std::array<Kind, 5> kinds{{{"sections", "", ""},
                                                {"angles", "angle", "angle"},
                                                {"channels", "channel", "channel"},
                                                {"tubes", "tube", "tube"},
                                                {"bars", "on edge", "bar"}}};
    const auto kind = std::find_if(kinds.begin(), kinds.end(),
                                   [&](const Kind& k) { return words.size() > 1 && words[1] == k.word; });
    if (kind == kinds.end()) refuse_vary(in_quotes(item) + " names no kind of section", way);
    double least = 0, most = 1e9;
    bool below = false;
    const auto size = [&](std::size_t i) {
        const auto number = i < words.size() ? plain_number(words[i]) : std::nullopt;
        if (!number) refuse_vary(in_quotes(item) + " gives no size in mm", way);
        return *number;
    };
    if (words.size() == 4 && words[2] == "under") {
        most = size(3);
        below = true;
    } else if (words.size() == 6 && words[2] == "from" && words[4] == "to") {
        least = size(3);
        most = size(5);
    } else if (words.size() != 2) {
        refuse_vary(in_quotes(item) + " is not understood", way);
    }
    std::vector<std::string> found;
    for (const materials::SectionRow& row : materials::tabulated_sections()) {
        if (row.kind.find(kind->in_table) == std::string::npos || materials::text_of_section(row).empty())
            continue;
        const double greatest = std::max(row.h, row.b), smallest = std::min(row.h, row.b);
        const bool is_bar = row.kind.find("on edge") != std::string::npos;
        if (greatest > most || (below && greatest >= most) || (is_bar ? greatest : smallest) < least)
            continue;
        found.push_back(materials::text_of_section(row));
    }
    if (found.empty())
        refuse_vary("no tabulated section is among " + in_quotes(item), "see hollowtop sections");
    return found;
}

std::vector<Choice> sections(const Typed& t, const Piece&) {
    std::vector<Choice> choices;
    std::set<std::string> seen;
    for (const std::string& item : items_of(t.values))
        for (const std::string& section : sections_of(item))
            if (seen.insert(section).second)
                choices.push_back(
                    {section, [part = t.part, section](Piece& piece) { set_section(piece, part, section); }});
    return choices;
}

/// Looks a name up; the error of the table becomes one of --vary.
template <class Find> auto looked_up(Find find) {
    try {
        return find();
    } catch (const Error& error) {
        refuse_vary(error.faults().front().what, error.faults().front().remedy);
    }
}

std::vector<Choice> metals(const Typed& t, const Piece&) {
    std::vector<Choice> choices;
    for (const std::string& item : items_of(t.values)) {
        looked_up([&] { return &materials::find_metal(item); });
        choices.push_back({item, [part = t.part, item](Piece& piece) { set_metal(piece, part, item); }});
    }
    return choices;
}

std::vector<Choice> woods(const Typed& t, const Piece&) {
    std::vector<Choice> choices;
    for (const std::string& item : items_of(t.values)) {
        const std::string id = looked_up([&] { return materials::find_wood(item).id; });
        choices.push_back({item, [id](Piece& piece) {
                               piece.top.wood = id;
                               piece.top.elastic.reset();
                               piece.top.sheet.clear();
                               piece.top.measured = {}; // of another wood
                               for (Board& board : piece.top.each_board) board.measured = {};
                           }});
    }
    return choices;
}

std::vector<Choice> rings(const Typed& t, const Piece&) {
    std::vector<Choice> choices;
    for (const std::string& item : items_of(t.values)) {
        std::optional<double> angle = plain_number(item);
        if (!angle) angle = ring_angle_of(item);
        if (!angle || *angle < 0 || *angle > 90)
            refuse_vary(in_quotes(item) + " is no way to cut the rings",
                        "give flatsawn, riftsawn, quartersawn, or an angle from 0 to 90");
        choices.push_back({item, [angle](Piece& piece) { piece.top.ring_angle_deg = *angle; }});
    }
    return choices;
}

std::vector<Choice> numbers(const Typed& t, const Piece&) {
    std::vector<Choice> choices;
    const auto read = [&](const std::string& text) {
        const auto number = plain_number(text);
        constexpr double most = 50;
        if (!number || *number < 0 || *number > most || *number != std::floor(*number))
            refuse_vary(in_quotes(text) + " is no number of stiffeners", "give a whole number from 0 to 50");
        return *number;
    };
    for (const double value : numbers_of(t.values, read)) {
        const int n = static_cast<int>(std::lround(value));
        choices.push_back({std::to_string(n), [n](Piece& piece) { set_number(piece, n); }});
    }
    return choices;
}

std::vector<Choice> holes(const Typed& t, const Piece&) {
    static constexpr std::array<std::string_view, 4> words{"round", "oversize", "slotted", "bonded"};
    static constexpr std::array<Holes, 4> kinds{Holes::round, Holes::oversize, Holes::slotted, Holes::bonded};
    std::vector<Choice> choices;
    for (const std::string& item : items_of(t.values)) {
        const auto word = std::find(words.begin(), words.end(), item);
        if (word == words.end())
            refuse_vary(in_quotes(item) + " is no kind of hole", "give " + listed(words));
        const Holes kind = kinds[static_cast<std::size_t>(word - words.begin())];
        choices.push_back({item, [part = t.part, kind](Piece& piece) { set_holes(piece, part, kind); }});
    }
    return choices;
}

std::vector<Choice> finishes(const Typed& t, const Piece&) {
    std::vector<Choice> choices;
    for (const std::string& item : items_of(t.values)) {
        const std::string id = looked_up([&] { return materials::find_finish(item).id; });
        choices.push_back({item, [id](Piece& piece) { set_finish(piece, id); }});
    }
    return choices;
}

std::vector<Choice> laid(const Typed& t, const Piece&) {
    static constexpr std::array<std::string_view, 3> words{"pith up", "bark up", "alternating"};
    static constexpr std::array<Laid, 3> ways{Laid::pith_up, Laid::bark_up, Laid::alternating};
    std::vector<Choice> choices;
    for (const std::string& item : items_of(t.values)) {
        const auto word = std::find(words.begin(), words.end(), item);
        if (word == words.end())
            refuse_vary(in_quotes(item) + " is no way to lay boards", "give " + listed(words));
        const Laid way = ways[static_cast<std::size_t>(word - words.begin())];
        choices.push_back({item, [way](Piece& piece) { lay_boards(piece, way); }});
    }
    return choices;
}

/// 0: none.
std::vector<Choice> ends(const Typed& t, const Piece& base) {
    const LengthReader read{base.units};
    std::vector<Choice> choices;
    for (const double value : numbers_of(t.values, read)) {
        const double mm = read.as_labelled(value);
        if (mm < 0)
            refuse_vary(t.name + ": " + read.label(mm) + " is too little", "give 0 for none, or more");
        choices.push_back(
            {mm > 0 ? read.choice(mm) : Message("none"), [mm](Piece& piece) { set_ends(piece, mm); }});
    }
    return choices;
}

/// "4.5x18": diameter x length.
std::vector<Choice> screws(const Typed& t, const Piece& base) {
    const LengthReader read{base.units};
    std::vector<Choice> choices;
    for (const std::string& item : items_of(t.values)) {
        const std::size_t x = item.find('x');
        if (x == std::string::npos)
            refuse_vary(in_quotes(item) + " is no screw", R"(write diameter x length, such as "4.5x18")");
        const double diameter = read(trimmed(std::string_view(item).substr(0, x))),
                     length = read(trimmed(std::string_view(item).substr(x + 1)));
        if (!(diameter > 0) || !(length > 0))
            refuse_vary(in_quotes(item) + " is no screw", "give a diameter and a length above zero");
        choices.push_back({item, [part = t.part, diameter, length](Piece& piece) {
                               set_screw(piece, part, diameter, length);
                           }});
    }
    return choices;
}

std::vector<Choice> supports(const Typed& t, const Piece& base, Way way) {
    const LengthReader read{base.units};
    std::vector<Choice> choices;
    for (const double value : numbers_of(t.values, read)) {
        const double mm = read.as_labelled(value);
        if (mm < 0) refuse_vary(t.name + ": " + read.label(mm) + " lies off the top", "give 0 or more");
        choices.push_back({read.choice(mm), [way, mm](Piece& piece) { set_supports(piece, way, mm); }});
    }
    return choices;
}

std::vector<Choice> thicknesses(const Typed& t, const Piece& base) {
    return lengths(
        t, base, [](Piece& piece, const std::string&, double mm) { piece.top.thickness = mm; }, 0);
}

std::vector<Choice> top_lengths(const Typed& t, const Piece& base) {
    return lengths(
        t, base, [](Piece& piece, const std::string&, double mm) { set_length(piece, mm); }, 0);
}

std::vector<Choice> hold_downs(const Typed& t, const Piece&) {
    std::vector<Choice> choices;
    for (const std::string& item : items_of(t.values)) {
        const bool yes = item == "yes" || item == "true";
        if (!yes && item != "no" && item != "false")
            refuse_vary(in_quotes(item) + " is neither yes nor no", "give yes, no or both");
        choices.push_back({yes ? "yes" : "no", [yes](Piece& piece) { set_hold_down(piece, yes); }});
    }
    return choices;
}

std::vector<Choice> uses(const Typed& t, const Piece&) {
    std::vector<Choice> choices;
    for (const std::string& item : items_of(t.values)) {
        const std::string id = looked_up([&] { return materials::find_use(item).id; });
        choices.push_back({item, [id](Piece& piece) { piece.use = id; }});
    }
    return choices;
}

std::vector<Choice> lands(const Typed& t, const Piece&) {
    std::vector<Choice> choices;
    const auto read = [&](const std::string& text) {
        const auto number = plain_number(text);
        constexpr double most = 20;
        if (!number || *number < 0 || *number > most || *number != std::floor(*number))
            refuse_vary(in_quotes(text) + " is no number of lands", "give a whole number from 0 to 20");
        return *number;
    };
    for (const double value : numbers_of(t.values, read)) {
        const int n = static_cast<int>(std::lround(value));
        choices.push_back(
            {std::to_string(n), [part = t.part, n](Piece& piece) { set_lands(piece, part, n); }});
    }
    return choices;
}

enum class Speaks { of_the_whole, of_recesses, of_stiffeners };

struct KeyRow {
    VaryKey shown;
    int rank;
    Speaks speaks;
    std::vector<Choice> (*read)(const Typed&, const Piece&);
};

// clang-format off
constexpr std::array<KeyRow, 26> rows{{
    {{"wood", "wood=black cherry, white ash", "the wood of the top"}, 0, Speaks::of_the_whole, woods},
    {{"rings", "rings=flatsawn, quartersawn", "how the boards are cut"}, 0, Speaks::of_the_whole, rings},
    {{"thickness", "thickness=38,42", "of the top; a recess keeps its depth"}, 0, Speaks::of_the_whole, thicknesses},
    {{"length", "length=1600,1800,2000", "of the top, drawn out at its middle with all that lies beyond"}, 0, Speaks::of_the_whole, top_lengths},
    {{"use", "use=dining, meeting", "the stated use, with its loads and limits"}, 0, Speaks::of_the_whole, uses},
    {{"depth", "depth=16..26 step 2", "of the recesses"}, 1, Speaks::of_recesses, [](const Typed& t, const Piece& p) { return lengths(t, p, set_depth, 0); }},
    {{"skin", "skin=14..22 in 5", "what is left above the recesses"}, 1, Speaks::of_recesses, [](const Typed& t, const Piece& p) { return lengths(t, p, set_skin, 0); }},
    {{"rim", "rim=90,110,130", "width of the rim round a rectangular recess"}, 1, Speaks::of_recesses, [](const Typed& t, const Piece& p) { return lengths(t, p, set_rim, 0); }},
    {{"lands", "lands=0,1,2", "ribs of full thickness, 40 mm wide, across a rectangular recess"}, 2, Speaks::of_recesses, lands},
    {{"hold_down", "hold_down=yes,no", "every pad, bearer and rail holds the top down"}, 1, Speaks::of_the_whole, hold_downs},
    {{"supports", "supports=60..120 step 20", "how far pads and bearers stand from the edges, both ways"}, 1, Speaks::of_the_whole,
     [](const Typed& t, const Piece& p) { return supports(t, p, Way::both); }},
    {{"supports_x", "supports_x=90,200", "the same along the length only"}, 1, Speaks::of_the_whole, [](const Typed& t, const Piece& p) { return supports(t, p, Way::x); }},
    {{"supports_y", "supports_y=90,150", "the same along the width only"}, 1, Speaks::of_the_whole, [](const Typed& t, const Piece& p) { return supports(t, p, Way::y); }},
    {{"number", "number=1..3 step 1", "of stiffeners like the first, in even bays"}, 2, Speaks::of_the_whole, numbers},
    {{"place", "front.place=250..350 step 50", "of a stiffener's line from the edge; of several, of the outermost two"}, 3, Speaks::of_stiffeners,
     [](const Typed& t, const Piece& p) { return lengths(t, p, set_place, 0); }},
    {{"section", "section=all angles under 40", "of the stiffeners"}, 4, Speaks::of_stiffeners, sections},
    {{"metal", "metal=S235, 6060-T66", "of the stiffeners"}, 5, Speaks::of_stiffeners, metals},
    {{"spacing", "spacing=120,180,240", "of the screws"}, 5, Speaks::of_stiffeners, [](const Typed& t, const Piece& p) { return lengths(t, p, set_spacing, 0); }},
    {{"holes", "holes=slotted, round", "in the stiffeners"}, 5, Speaks::of_stiffeners, holes},
    {{"slot_length", "slot_length=10,16", "of the slots in the stiffeners, over all: for --seasons"}, 6, Speaks::of_stiffeners, [](const Typed& t, const Piece& p) { return lengths(t, p, set_slot_length, 0); }},
    {{"groove", "groove=6,9", "how deep bars that slide in a groove are let in"}, 5, Speaks::of_stiffeners, [](const Typed& t, const Piece& p) { return lengths(t, p, set_groove, 0); }},
    {{"ends", "ends=0,90", "width of the breadboard ends that are drawn; 0: none"}, 0, Speaks::of_the_whole, ends},
    {{"finish", "finish=bare, oil, film", "of both faces and the recesses alike: for --seasons"}, 0, Speaks::of_the_whole, finishes},
    {{"laid", "laid=pith up, bark up, alternating", "the boards, where their rings are known: for --seasons"}, 0, Speaks::of_the_whole, laid},
    {{"screw", "screw=4x15, 4.5x18", "diameter x length"}, 5, Speaks::of_stiffeners, screws},
    {{"moisture", "moisture=8,12", "of the wood, percent"}, 0, Speaks::of_the_whole,
     [](const Typed& t, const Piece&) {
         std::vector<Choice> choices;
         for (const double percent : numbers_of(t.values, [](const std::string& text) { return parse_percent(text); }))
             choices.push_back({significant(percent, 4) + " %", [percent](Piece& piece) { piece.top.moisture_percent = percent; }});
         return choices;
     }},
}};
// clang-format on

/// Is there a part of that name to be varied?
void expect_part(const Typed& t, Speaks speaks, const Piece& base) {
    std::vector<std::string_view> names;
    if (speaks == Speaks::of_recesses)
        for (const Recess& recess : base.recesses) names.push_back(recess.name);
    if (speaks == Speaks::of_stiffeners)
        for (const Stiffener& bar : base.stiffeners) names.push_back(bar.name);
    if (speaks != Speaks::of_the_whole && names.empty())
        refuse_vary(in_quotes(t.name) + ": the piece has no " +
                        (speaks == Speaks::of_recesses ? "recess" : "stiffener"),
                    "draw one in the piece file first");
    if (t.part.empty()) return;
    if (speaks == Speaks::of_the_whole)
        refuse_vary(in_quotes(t.name) + ": this is not said of a part", "write " + in_quotes(t.key));
    if (std::find(names.begin(), names.end(), t.part) != names.end()) return;
    const std::string near = did_you_mean(t.part, names);
    refuse_vary("no " + std::string(speaks == Speaks::of_recesses ? "recess" : "stiffener") + " is called " +
                    in_quotes(t.part),
                near.empty() ? "give " + listed(names) : near);
}

} // namespace

std::span<const VaryKey> vary_keys() {
    static const auto keys = [] {
        std::array<VaryKey, rows.size()> shown{};
        std::transform(rows.begin(), rows.end(), shown.begin(), [](const KeyRow& row) { return row.shown; });
        return shown;
    }();
    return keys;
}

Axis read_axis(const std::string& text, const Piece& base) {
    Typed t = typed(text);
    if (t.key == "support_x" || t.key == "support_y") t.key.insert(7, "s");
    const auto row =
        std::find_if(rows.begin(), rows.end(), [&](const KeyRow& r) { return t.key == r.shown.name; });
    if (row == rows.end()) {
        std::vector<std::string_view> known;
        for (const KeyRow& r : rows) known.emplace_back(r.shown.name);
        const std::string near = did_you_mean(t.key, known);
        refuse_vary(in_quotes(t.key) + " cannot be varied",
                    near.empty() ? "give one of " + listed(known) : near);
    }
    expect_part(t, row->speaks, base);
    return {.name = t.name, .rank = row->rank, .choices = row->read(t, base)};
}

} // namespace hollowtop::cli
