// SPDX-License-Identifier: MIT
#include "cli/read/piece_parts.hpp"

#include <array>

namespace hollowtop::cli {
namespace {

constexpr std::array<std::string_view, 4> hole_words{"round", "oversize", "slotted", "bonded"};
constexpr std::array<Holes, 4> hole_kinds{Holes::round, Holes::oversize, Holes::slotted, Holes::bonded};

Screws read_screws(const Cursor& object) {
    Screws screws;
    if (!object.only({"diameter", "length", "spacing", "at", "holes", "stiffness"})) return screws;
    std::size_t holes = 2;
    object.word("holes", hole_words, holes);
    screws.holes = hole_kinds[holes];
    const bool bonded = screws.holes == Holes::bonded;
    const Rule size{.required = !bonded, .least = 0, .above_least = true};
    object.length("diameter", screws.diameter, size);
    object.length("length", screws.length, size);
    const bool placed = object.has("spacing") || object.has("at");
    if (placed || !bonded) {
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
    if (!object.only({"name", "section", "metal", "wood", "elastic", "from", "to", "screws"}))
        return stiffener;
    object.text("name", stiffener.name);
    object.text("section", stiffener.section, required);
    const auto material = object.one_of({"metal", "wood", "elastic"});
    if (material == "metal") object.text("metal", stiffener.metal);
    if (material == "wood") stiffener.wood = read_wood(*object.find("wood"));
    if (material == "elastic") stiffener.elastic = read_bar_elastic(*object.find("elastic"));
    object.point("from", stiffener.from, required);
    object.point("to", stiffener.to, required);
    if (const auto screws = object.find("screws")) stiffener.screws = read_screws(*screws);
    return stiffener;
}

} // namespace hollowtop::cli
