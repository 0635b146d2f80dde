// SPDX-License-Identifier: MIT
#include "cli/read/piece_parts.hpp"

#include <array>
#include <cctype>

namespace hollowtop::cli {
namespace {

void read_line(const Cursor& object, Point& from, Point& to) {
    object.point("from", from, required);
    object.point("to", to, required);
}

std::optional<double> read_stiffness(const Cursor& object) {
    double stiffness = 0;
    if (!object.number("stiffness", stiffness, positive)) return std::nullopt;
    return stiffness;
}

/// true, false, a force, or {"screws", "diameter", "length"}.
void read_hold_down(const Cursor& object, bool& hold_down, HoldDown& held_by) {
    const auto value = object.find("hold_down");
    if (!value) return;
    switch (value->value().kind) {
    case JsonValue::Kind::object:
        value->only({"screws", "diameter", "length"});
        hold_down = true;
        value->whole_number("screws", held_by.screws, {.required = true, .least = 1});
        value->length("diameter", held_by.diameter, required_positive);
        value->length("length", held_by.length, required_positive);
        return;
    case JsonValue::Kind::text: {
        const std::string& text = value->value().text;
        if (text.empty() || (std::isdigit(static_cast<unsigned char>(text.front())) == 0 &&
                             text.front() != '-' && text.front() != '.'))
            break;
        double strength = 0;
        if (object.force("hold_down", strength, positive)) held_by.strength_N = strength;
        hold_down = true;
        return;
    }
    default:
        break;
    }
    object.boolean("hold_down", hold_down);
}

/// Of the support's body, below the top.
std::optional<double> read_height(const Cursor& object) {
    double height = 0;
    if (!object.length("height", height, positive)) return std::nullopt;
    return height;
}

/// What a pad and a bearer have in common.
template <class Bed> void read_bed(const Cursor& object, Bed& bed) {
    read_hold_down(object, bed.hold_down, bed.held_by);
    bed.stiffness = read_stiffness(object);
    object.boolean("packed", bed.packed);
    bed.height = read_height(object);
}

Pad read_pad(const Cursor& object) {
    Pad pad;
    object.only({"kind", "name", "at", "size", "hold_down", "stiffness", "packed", "height"});
    object.point("at", pad.at, required);
    Point size;
    if (object.point("size", size, required)) {
        pad.size_x = size.x;
        pad.size_y = size.y;
        if (size.x < 0 || size.y < 0)
            object.fault_at("size", "a size is not negative", "write it as [along x, along y]");
    }
    read_bed(object, pad);
    return pad;
}

Bearer read_bearer(const Cursor& object) {
    Bearer bearer;
    object.only({"kind", "name", "from", "to", "width", "hold_down", "stiffness", "packed", "height"});
    read_line(object, bearer.from, bearer.to);
    object.length("width", bearer.width, required_not_negative);
    read_bed(object, bearer);
    return bearer;
}

Rail read_rail(const Cursor& object) {
    Rail rail;
    object.only({"kind", "name", "from", "to", "section", "metal", "wood", "elastic", "hold_down"});
    read_line(object, rail.from, rail.to);
    object.text("section", rail.section, required);
    const auto material = object.one_of({"metal", "wood", "elastic"});
    if (material == "metal") object.text("metal", rail.metal);
    if (material == "wood") rail.wood = read_wood(*object.find("wood"));
    if (material == "elastic") rail.elastic = read_bar_elastic(*object.find("elastic"));
    read_hold_down(object, rail.hold_down, rail.held_by);
    return rail;
}

Held read_held(const Cursor& object) {
    static constexpr std::array<std::string_view, 5> movements{"down", "tilt", "twist", "along", "across"};
    static constexpr std::array<std::string_view, 3> levels{"top", "middle", "bottom"};
    static constexpr std::array<Level, 3> level_kinds{Level::top, Level::middle, Level::bottom};
    Held held;
    object.only({"kind", "name", "from", "to", "holds", "level"});
    read_line(object, held.from, held.to);
    constexpr const char* way = R"(write a list of "down", "tilt", "twist", "along", "across")";
    if (const auto holds = object.find("holds")) {
        bool* const held_by_word[] = {&held.down, &held.tilt, &held.twist, &held.along, &held.across};
        for (const Cursor& item : holds->items())
            if (const auto word = item.as_word(movements)) *held_by_word[*word] = true;
        if (holds->value().kind == JsonValue::Kind::list && holds->value().items.empty())
            holds->fault("this list is empty", way);
    } else {
        object.fault_at("holds", "this key is missing", way);
    }
    std::size_t level = 1;
    object.word("level", levels, level);
    held.level = level_kinds[level];
    return held;
}

BuiltIn read_built_in(const Cursor& object) {
    BuiltIn built_in;
    object.only({"kind", "name", "from", "to"});
    read_line(object, built_in.from, built_in.to);
    return built_in;
}

struct SupportKind {
    std::string_view word, spoken;
};
constexpr std::array<SupportKind, 5> kinds{{{"pad", "pad"},
                                            {"bearer", "bearer"},
                                            {"rail", "rail"},
                                            {"held", "held line"},
                                            {"built_in", "built-in line"}}};

} // namespace

std::vector<Support> read_supports(const Cursor& list) {
    std::array<std::string_view, kinds.size()> words{};
    for (std::size_t i = 0; i < kinds.size(); ++i) words[i] = kinds[i].word;
    std::array<int, kinds.size()> count{};
    std::vector<Support> supports;
    for (const Cursor& object : list.items(most_supports)) {
        std::size_t kind = 0;
        if (object.value().kind != JsonValue::Kind::object) {
            object.only({});
            continue;
        }
        if (!object.word("kind", words, kind, required)) continue;
        Support support;
        support.name = std::string(kinds[kind].spoken) + ' ' + std::to_string(++count[kind]);
        object.text("name", support.name);
        switch (kind) {
        case 0:
            support.kind = read_pad(object);
            break;
        case 1:
            support.kind = read_bearer(object);
            break;
        case 2:
            support.kind = read_rail(object);
            break;
        case 3:
            support.kind = read_held(object);
            break;
        default:
            support.kind = read_built_in(object);
            break;
        }
        supports.push_back(std::move(support));
    }
    return supports;
}

} // namespace hollowtop::cli
