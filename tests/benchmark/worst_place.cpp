// SPDX-License-Identifier: MIT
/// \file  The worst place of a load that travels, against a search of every place of a 10 mm grid, on twenty
/// invented pieces.
/// Both work on the same coarse mesh, so that only the search is compared. Of each row of the table of checks
/// (and lift-off) the best of the grid is set against what the search found: the row with the greatest
/// shortfall is printed. Processor time of the search, the coarse model's own time apart.
///
///     benchmark_worst_place [first piece] [last piece]
#include "materials/error.hpp"
#include "solver/check/position_search.hpp"
#include "solver/checks/checks.hpp"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <string>
#include <vector>

namespace {

using namespace hollowtop;

double processor_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

/// Sizes, woods, outlines, recesses, supports and loads in turn, so that no two pieces are alike.
Piece invented(int k) {
    const auto pick = [k](auto... values) {
        const std::vector list{values...};
        return list[static_cast<std::size_t>(k) % list.size()];
    };
    Piece piece;
    Top& top = piece.top;
    top.length = k == 0 ? 1900 : 700 + 83.0 * (k * 7 % 13);
    top.width = k == 0 ? 850 : 300 + 37.0 * (k * 5 % 11);
    top.thickness = pick(42.0, 30.0, 36.0, 24.0, 27.0);
    top.wood =
        pick("cherry_black", "oak_white", "pine_eastern_white", "maple_sugar", "ash_white", "walnut_black");
    top.grain_deg = k % 6 == 5 ? 90 : 0;
    top.ring_angle_deg = pick(0.0, 90.0, 45.0, 0.0);
    const Rectangle all{0, top.length, 0, top.width};
    if (k % 5 == 3)
        top.outline = EllipseShape{all};
    else
        top.outline = RectangleShape{all, k % 3 == 1 ? 30.0 : 0.0};
    const double rim = 0.13 * top.width;
    if (k % 5 == 3)
        piece.recesses.push_back({"well", RimShape{0.11 * top.width, 0}, 0.5 * top.thickness, 4, {}});
    else if (k % 4 == 1)
        piece.recesses.push_back({"well",
                                  RectangleShape{{rim, 0.62 * top.length, rim, top.width - rim}, 12},
                                  0.6 * top.thickness,
                                  4,
                                  {}});
    else if (k % 4 != 2)
        piece.recesses.push_back({"well",
                                  RectangleShape{{rim, top.length - rim, rim, top.width - rim}, 12},
                                  0.45 * top.thickness,
                                  4,
                                  {}});
    if (k % 5 == 0 && !piece.recesses.empty())
        piece.recesses.front().lands = {
            {"land", RectangleShape{{0.45 * top.length, 0.55 * top.length, rim, top.width - rim}, 0}}};
    const bool held = k % 2 == 0;
    if (k % 3 == 2) {
        for (const double x : {0.15 * top.length, 0.85 * top.length})
            piece.supports.push_back({"bearer", Bearer{.from = {x, 0.2 * top.width},
                                                       .to = {x, 0.8 * top.width},
                                                       .width = 30,
                                                       .hold_down = held,
                                                       .stiffness = {}}});
    } else {
        const double inset = k % 5 == 3 ? 0.24 : 0.1;
        for (const double x : {inset * top.length, (1 - inset) * top.length})
            for (const double y : {inset * top.width, (1 - inset) * top.width})
                piece.supports.push_back(
                    {"pad",
                     Pad{.at = {x, y}, .size_x = 60, .size_y = 60, .hold_down = held, .stiffness = {}}});
    }
    piece.loads.push_back({"things", Duration::long_term, AreaLoad{.pressure = 0.3e-3, .over = {}}});
    if (k % 7 == 4)
        piece.loads.push_back(
            {"guests", Duration::short_term,
             LineLoad{
                 .force = 250, .from = {0, 0}, .to = {0.3 * top.length, 0}, .travels = true, .over = {}}});
    else
        piece.loads.push_back({"guest", Duration::short_term,
                               PatchLoad{.force = pick(500.0, 300.0, 800.0),
                                         .at = {},
                                         .size_x = pick(89.0, 200.0, 60.0, 120.0),
                                         .size_y = pick(89.0, 100.0, 60.0),
                                         .travels = true,
                                         .over = {}}});
    return piece;
}

void compare(int k) {
    const Piece piece = invented(k);
    Piece standing = piece;
    standing.loads.pop_back();
    const double begin = processor_seconds();
    const auto top = coarse_top(standing, 1);
    const double made = processor_seconds();
    PositionSearch search(top, piece.loads.back(), "load");
    search.run();
    const double found = processor_seconds();
    PositionSearch brute(top, piece.loads.back(), "load");
    const Rectangle range = brute.range();
    std::vector<Point> grid;
    for (double y = range.y0; y <= range.y1 + 1e-9; y += 10)
        for (double x = range.x0; x <= range.x1 + 1e-9; x += 10) grid.push_back({x, y});
    brute.used_at(grid);
    const double done = processor_seconds();
    const Travel ours = search.result(), all = brute.result();
    struct Shortfall {
        double percent = -1e9, used = 0;
        std::string of;
    };
    Shortfall any, told;
    const bool tips =
        brute.tipped().has_value(); // then the top fails, and up to the edge of tipping the rest only grows
    for (const Travel::Field& field : all.fields) {
        if (tips && field.check != "tipping") continue;
        if (field.worst_utilisation < 0.1) continue; // not refined
        const auto same = std::find_if(ours.fields.begin(), ours.fields.end(),
                                       [&](const auto& f) { return f.check == field.check; });
        const double missed =
            same == ours.fields.end() ? 100 : 100 * (1 - same->worst_utilisation / field.worst_utilisation);
        const auto take = [&](Shortfall& greatest) {
            if (missed > greatest.percent) greatest = {missed, field.worst_utilisation, field.check};
        };
        take(any);
        if (field.worst_utilisation >= 1.0 / 3) take(told); // what gets a situation of its own
    }
    std::printf("%2d  %4.0f x %3.0f  %4d places, model %.2f s, search %.2f s; grid %5d places, %5.1f s; "
                "below the grid's best by %5.2f %% at most (%s, used %.2f)",
                k, piece.top.length, piece.top.width, ours.n_places, made - begin, found - made, all.n_places,
                done - found, any.percent, any.of.c_str(), any.used);
    if (!told.of.empty())
        std::printf("; where used by a third, %5.2f %% (%s)", told.percent, told.of.c_str());
    std::printf("\n");
    std::fflush(stdout);
}

} // namespace

int main(int argc, char** argv) {
    const int first = argc > 1 ? std::atoi(argv[1]) : 0, last = argc > 2 ? std::atoi(argv[2]) : 19;
    try {
        for (int k = first; k <= last; ++k) compare(k);
    } catch (const Error& error) {
        for (const Fault& fault : error.faults())
            std::printf("%s: %s\n", fault.place.c_str(), in_own_units(fault.what).c_str());
        return 1;
    }
}
