// SPDX-License-Identifier: MIT
#include "tests/properties/tables_for_tests.hpp"

#include "tests/properties/dice.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <utility>

namespace hollowtop {
namespace {

double to_5_mm(double mm) { return 5 * std::round(mm / 5); }

void set_on_legs(Dice& dice, Piece& piece) {
    const double size = to_5_mm(dice.between(45, 90)), inset = to_5_mm(dice.between(size / 2 + 5, 160)),
                 side = std::min(inset, piece.top.width / 4);
    const bool held = dice.once_in(2);
    int n = 0;
    for (const double x : {inset, piece.top.length - inset})
        for (const double y : {side, piece.top.width - side})
            piece.supports.push_back(
                {.name = "leg " + std::to_string(++n),
                 .kind = Pad{.at = {x, y}, .size_x = size, .size_y = size, .hold_down = held}});
}

void set_on_bearers(Dice& dice, Piece& piece) {
    const double width = to_5_mm(dice.between(20, 80)),
                 end = to_5_mm(dice.between(0.1, 0.25) * piece.top.length);
    const int n = 2 + dice.up_to(2);
    const bool held = dice.once_in(2);
    for (int i = 0; i < n; ++i) {
        const double x = end + (piece.top.length - 2 * end) * i / (n - 1);
        piece.supports.push_back({.name = "bearer " + std::to_string(i + 1),
                                  .kind = Bearer{.from = {x, 0.08 * piece.top.width},
                                                 .to = {x, 0.92 * piece.top.width},
                                                 .width = width,
                                                 .hold_down = held}});
    }
}

void set_on_an_apron(Dice& dice, Piece& piece) {
    set_on_legs(dice, piece);
    const auto& first = std::get<Pad>(piece.supports.front().kind);
    const double x0 = first.at.x, y0 = first.at.y, x1 = piece.top.length - x0, y1 = piece.top.width - y0;
    const std::array<std::pair<Point, Point>, 4> rails{
        {{{x0, y0}, {x1, y0}}, {{x0, y1}, {x1, y1}}, {{x0, y0}, {x0, y1}}, {{x1, y0}, {x1, y1}}}};
    int n = 0;
    for (const auto& [from, to] : rails)
        piece.supports.push_back({.name = "rail " + std::to_string(++n),
                                  .kind = Rail{.from = from,
                                               .to = to,
                                               .section = "bar 22x90",
                                               .metal = "",
                                               .wood = piece.top.wood,
                                               .elastic = {},
                                               .hold_down = first.hold_down}});
}

Recess well(const std::string& name, const Rectangle& box, double depth) {
    return {.name = name,
            .shape = RectangleShape{.box = box, .corner_radius = 12},
            .depth = depth,
            .root_radius = 3,
            .lands = {}};
}

void hollow(Dice& dice, Piece& piece) {
    const Top& top = piece.top;
    const double depth = std::max(4.0, std::round(dice.between(0.3, 0.8) * top.thickness)),
                 rim_x = to_5_mm(dice.between(0.08, 0.18) * top.length),
                 rim_y = to_5_mm(dice.between(0.12, 0.25) * top.width);
    const int n = 1 + dice.up_to(3);
    constexpr double between = 50;
    const double room = top.length - 2 * rim_x, one = (room - between * (n - 1)) / n;
    for (int i = 0; i < n; ++i) {
        const double x0 = rim_x + i * (one + between);
        piece.recesses.push_back(
            well("well " + std::to_string(i + 1), {x0, x0 + one, rim_y, top.width - rim_y}, depth));
    }
}

/// An angle along the middle of the first recess, on screws that are too short, too long or right.
void stiffen(Dice& dice, Piece& piece) {
    const Recess& recess = piece.recesses.front();
    const Rectangle box = std::get<RectangleShape>(recess.shape).box;
    const double skin = piece.top.thickness - recess.depth;
    if (skin < 10 || box.x1 - box.x0 < 350) return;
    piece.stiffeners.push_back({.name = "angle",
                                .section = dice.once_in(2) ? "angle 25x25x3" : "flat 40x5",
                                .metal = "S235",
                                .wood = "",
                                .elastic = {},
                                .from = {box.x0 + 30, (box.y0 + box.y1) / 2},
                                .to = {box.x1 - 30, (box.y0 + box.y1) / 2},
                                .screws = {.diameter = 4,
                                           .length = std::round(skin * dice.between(0.6, 1.1)),
                                           .spacing = to_5_mm(dice.between(60, 250)),
                                           .at = {},
                                           .holes = Holes::slotted,
                                           .stiffness = {}}});
}

} // namespace

Piece random_table(std::uint32_t seed) {
    Dice dice(seed);
    Piece piece;
    piece.title = "random table " + std::to_string(seed);
    struct Kind {
        const char* use;
        double least_length, most_length, least_width, most_width, least_thickness, most_thickness;
    };
    static constexpr std::array<Kind, 7> kinds{{{"dining", 1200, 2400, 700, 1000, 18, 45},
                                                {"desk", 1000, 1800, 500, 800, 16, 40},
                                                {"coffee_table", 700, 1300, 450, 750, 14, 38},
                                                {"hall_table", 800, 1500, 280, 450, 12, 32},
                                                {"bench", 900, 1800, 280, 400, 20, 45},
                                                {"counter", 1200, 2600, 550, 700, 20, 45},
                                                {"workbench", 1400, 2200, 550, 800, 35, 90}}};
    const Kind& kind = kinds[static_cast<size_t>(dice.up_to(static_cast<int>(kinds.size())))];
    piece.use = kind.use;
    Top& top = piece.top;
    top.length = to_5_mm(dice.between(kind.least_length, kind.most_length));
    top.width = to_5_mm(dice.between(kind.least_width, kind.most_width));
    top.thickness = std::round(dice.between(kind.least_thickness, kind.most_thickness));
    static constexpr std::array<const char*, 6> woods{"oak_white",    "cherry_black",   "ash_white",
                                                      "walnut_black", "beech_european", "pine_eastern_white"};
    top.wood = woods[static_cast<size_t>(dice.up_to(6))];
    top.outline = RectangleShape{.box = {0, top.length, 0, top.width}, .corner_radius = 0};
    switch (dice.up_to(3)) {
    case 0:
        set_on_legs(dice, piece);
        break;
    case 1:
        set_on_bearers(dice, piece);
        break;
    default:
        set_on_an_apron(dice, piece);
    }
    if (!dice.once_in(4)) hollow(dice, piece);
    if (!piece.recesses.empty() && dice.once_in(3)) stiffen(dice, piece);
    return piece;
}

} // namespace hollowtop
