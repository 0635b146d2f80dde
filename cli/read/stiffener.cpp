// SPDX-License-Identifier: MIT
#include "cli/read/piece_parts.hpp"
#include "materials/section.hpp"
#include "solver/piece/groove.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace hollowtop::cli {
namespace {

constexpr std::array<std::string_view, 5> hole_words{"round", "oversize", "slotted", "bonded", "dovetail"};
constexpr std::array<Holes, 5> hole_kinds{Holes::round, Holes::oversize, Holes::slotted, Holes::bonded,
                                          Holes::dovetail};

Screws read_screws(const Cursor& object) {
    Screws screws;
    if (!object.only({"diameter", "length", "spacing", "at", "holes", "stiffness", "slot_length"}))
        return screws;
    std::size_t holes = 2;
    object.word("holes", hole_words, holes);
    screws.holes = hole_kinds[holes];
    const bool screwed = is_screwed(screws.holes);
    const Rule size{.required = screwed, .least = 0, .above_least = true};
    object.length("diameter", screws.diameter, size);
    object.length("length", screws.length, size);
    const bool placed = object.has("spacing") || object.has("at");
    if (placed || screwed) {
        const auto way = object.one_of({"spacing", "at"});
        if (way == "spacing") object.length("spacing", screws.spacing, positive);
        if (way == "at") {
            const Cursor list = *object.find("at");
            for (const Cursor& item : list.items(most_screws))
                if (const auto distance = item.as_length()) screws.at.push_back(*distance);
            if (list.value().kind == JsonValue::Kind::list && list.value().items.empty())
                list.fault("this list is empty",
                           "write the distances from the stiffener's start, such as [80, 365]");
        }
    }
    double slot_length = 0;
    if (object.length("slot_length", slot_length, positive)) {
        screws.slot_length = slot_length;
        if (screws.holes != Holes::slotted)
            object.fault_at("slot_length", "only slots have a length",
                            R"(write "holes": "slotted", or leave it out)");
    }
    double stiffness = 0;
    if (object.number("stiffness", stiffness, positive)) screws.stiffness = stiffness;
    return screws;
}

} // namespace

std::optional<BarElastic> read_bar_elastic(const Cursor& object) {
    BarElastic elastic;
    if (!object.only({"E", "G", "density"})) return std::nullopt;
    object.modulus_MPa("E", elastic.E, required_positive);
    object.modulus_MPa("G", elastic.G, required_positive);
    object.density_kg_m3("density", elastic.density_kg_m3, not_negative);
    return elastic;
}

Stiffener read_stiffener(const Cursor& object, std::size_t number) {
    Stiffener stiffener;
    stiffener.name = "stiffener " + std::to_string(number);
    if (!object.only({"name", "section", "metal", "wood", "elastic", "from", "to", "groove", "screws"}))
        return stiffener;
    object.text("name", stiffener.name);
    object.text("section", stiffener.section, required);
    const auto material = object.one_of({"metal", "wood", "elastic"});
    if (material == "metal") object.text("metal", stiffener.metal);
    if (material == "wood") stiffener.wood = read_wood(*object.find("wood"));
    if (material == "elastic") stiffener.elastic = read_bar_elastic(*object.find("elastic"));
    object.point("from", stiffener.from, required);
    object.point("to", stiffener.to, required);
    if (const auto screws = object.find("screws"))
        stiffener.screws = read_screws(*screws);
    else if (object.has("groove"))
        stiffener.screws.holes = Holes::dovetail;
    return stiffener;
}

std::optional<Recess> read_groove(const Cursor& object, const Stiffener& stiffener) {
    double depth = 0;
    if (!object.length("groove", depth, positive)) return std::nullopt;
    double width = 0;
    try {
        const materials::Section section = materials::parse_section(stiffener.section);
        width = section.contact_y1 - section.contact_y0;
    } catch (const Error&) { // said with the section
        return std::nullopt;
    }
    const Point a = stiffener.from, b = stiffener.to;
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    if (!(length > 0)) return std::nullopt;
    Recess groove{.name = groove_of(stiffener),
                  .shape = RectangleShape{},
                  .depth = depth,
                  .root_radius = 0,
                  .lands = {}};
    const Point n{-(b.y - a.y) / length * width / 2, (b.x - a.x) / length * width / 2};
    if (a.x == b.x || a.y == b.y)
        groove.shape =
            RectangleShape{{std::min(a.x, b.x) - std::abs(n.x), std::max(a.x, b.x) + std::abs(n.x),
                            std::min(a.y, b.y) - std::abs(n.y), std::max(a.y, b.y) + std::abs(n.y)},
                           0};
    else
        groove.shape = PolygonShape{
            {{a.x - n.x, a.y - n.y}, {b.x - n.x, b.y - n.y}, {b.x + n.x, b.y + n.y}, {a.x + n.x, a.y + n.y}},
            0};
    return groove;
}

std::optional<Ends> read_ends(const Cursor& object, const Top& top) {
    Ends ends;
    if (!object.only({"width", "tongue", "wood", "peg", "pegs"})) return std::nullopt;
    object.length("width", ends.width, required_positive);
    object.length("tongue", ends.tongue, required_positive);
    ends.wood = top.wood;
    if (const auto wood = object.find("wood")) ends.wood = read_wood(*wood);
    object.length("peg", ends.peg, positive);
    constexpr int most_pegs = 99;
    double pegs = ends.pegs;
    if (object.number("pegs", pegs, {.least = 1})) {
        if (pegs != std::floor(pegs) || pegs > most_pegs)
            object.fault_at("pegs", "this is no number of pegs", "give a whole number from 1 to 99");
        else
            ends.pegs = static_cast<int>(pegs);
    }
    return ends;
}

} // namespace hollowtop::cli
