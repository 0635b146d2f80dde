// SPDX-License-Identifier: MIT
#include "cli/commands/added_bar.hpp"

#include "cli/words/quantity.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"
#include "materials/metal.hpp"
#include "materials/section.hpp"
#include "materials/wood.hpp"
#include "solver/variants/edits.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <sstream>
#include <string_view>
#include <vector>

namespace hollowtop::cli {
namespace {

constexpr const char* way = R"(write for example "angle 30x30x3 at y=350 screws 4.5x15")";

[[noreturn]] void refuse(const std::string& what, const std::string& remedy = way) {
    throw Error(ErrorKind::input, Fault{.place = "--add", .what = what, .remedy = remedy});
}

/// The fault of what was looked up, told as one of --add.
template <class Look> auto looked_up(Look look) {
    try {
        return look();
    } catch (const Error& error) {
        throw Error(ErrorKind::input, Fault{.place = "--add",
                                            .what = error.faults().front().what,
                                            .remedy = error.faults().front().remedy});
    }
}

constexpr std::array<std::string_view, 9> keywords{"at",    "from",  "to",   "screws", "every",
                                                   "holes", "metal", "wood", "glued"};

/// What stands behind each keyword; the section behind "".
std::map<std::string, std::string> parts_of(const std::string& text) {
    std::map<std::string, std::string> parts;
    std::istringstream words(text);
    std::string key;
    for (std::string word; words >> word;) {
        if (std::find(keywords.begin(), keywords.end(), word) != keywords.end()) {
            if (!parts.try_emplace(word).second)
                refuse(in_quotes(word) + " stands twice in " + in_quotes(text));
            key = word;
            continue;
        }
        std::string& part = parts[key];
        part += (part.empty() ? "" : " ") + word;
    }
    for (const auto& [name, part] : parts)
        if (part.empty() != (name == "glued"))
            refuse(part.empty() ? "nothing stands behind " + in_quotes(name)
                                : in_quotes(part) + " stands behind \"glued\"");
    return parts;
}

double length_of(const std::string& text, Units units) {
    return looked_up([&] {
        const bool is_bare = text.find_first_not_of("0123456789./ -") == std::string::npos;
        return Length::parse(is_bare ? text + (units == Units::mm ? " mm" : " in") : text).mm();
    });
}

/// "y=350": along x at that y, or along y at that x.
struct Line {
    bool along_x = true;
    double at = 0;
};
Line line_of(const std::string& text, Units units) {
    const bool is_y = text.starts_with("y="), is_x = text.starts_with("x=");
    if (!is_x && !is_y)
        refuse(in_quotes(text) + " is no place",
               R"(write "at y=350": a bar along x at that y, or "at x=600")");
    return {.along_x = is_y, .at = length_of(text.substr(2), units)};
}

} // namespace

void add_bar(Piece& piece, const std::string& text) {
    auto parts = parts_of(text);
    const auto has = [&](const char* key) { return parts.count(key) > 0; };
    if (!has("")) refuse("no section stands first in " + in_quotes(text));
    if (!has("at")) refuse(in_quotes(text) + " does not say where it runs");
    if (has("from") != has("to"))
        refuse(in_quotes(text) + " gives one end only", R"(write "from 100 to 700")");
    if (has("glued") == has("screws"))
        refuse(in_quotes(text) + (has("glued") ? " is glued and screwed" : " does not say what holds it"),
               R"(write "screws 4.5x15", diameter x length, or "glued")");
    if (has("metal") && has("wood"))
        refuse(in_quotes(text) + " is of metal and of wood", R"(give one of them)");

    Stiffener bar;
    bar.section = parts[""];
    looked_up([&] { return materials::parse_section(bar.section).area; });
    if (has("wood"))
        bar.wood = looked_up([&] { return materials::find_wood(parts["wood"]).id; });
    else
        bar.metal = has("metal") ? parts["metal"] : "S235";
    if (!bar.metal.empty()) looked_up([&] { return &materials::find_metal(bar.metal); });

    const Line line = line_of(parts["at"], piece.units);
    std::optional<std::pair<double, double>> ends;
    if (has("from")) ends = {length_of(parts["from"], piece.units), length_of(parts["to"], piece.units)};
    put_bar(bar, piece, line.along_x ? Way::x : Way::y, line.at, ends);

    if (has("glued")) {
        bar.screws.holes = Holes::bonded;
    } else {
        const std::string& screw = parts["screws"];
        const std::size_t x = screw.find('x');
        if (x == std::string::npos)
            refuse(in_quotes(screw) + " is no screw", R"(write diameter x length, such as "screws 4.5x15")");
        bar.screws.diameter = length_of(screw.substr(0, x), piece.units);
        bar.screws.length = length_of(screw.substr(x + 1), piece.units);
        constexpr double usual_spacing = 150; // mm, common practice
        bar.screws.spacing = has("every") ? length_of(parts["every"], piece.units) : usual_spacing;
        static constexpr std::array<std::string_view, 3> hole_words{"round", "oversize", "slotted"};
        static constexpr std::array<Holes, 3> hole_kinds{Holes::round, Holes::oversize, Holes::slotted};
        bar.screws.holes = Holes::slotted;
        if (has("holes")) {
            const auto word = std::find(hole_words.begin(), hole_words.end(), parts["holes"]);
            if (word == hole_words.end())
                refuse(in_quotes(parts["holes"]) + " is no kind of hole", "give " + listed(hole_words));
            bar.screws.holes = hole_kinds[static_cast<std::size_t>(word - hole_words.begin())];
        }
    }
    for (std::size_t n = piece.stiffeners.size() + 1;; ++n) {
        bar.name = "added stiffener " + std::to_string(n);
        const auto same = [&](const Stiffener& other) { return other.name == bar.name; };
        if (std::none_of(piece.stiffeners.begin(), piece.stiffeners.end(), same)) break;
    }
    piece.stiffeners.push_back(std::move(bar));
}

} // namespace hollowtop::cli
