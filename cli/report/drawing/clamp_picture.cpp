// SPDX-License-Identifier: MIT
#include "cli/report/drawing/clamp_picture.hpp"

#include "cli/report/drawing/colours.hpp"
#include "cli/words/format.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

const Look upper_look{.stroke = ink::steel, .width = 1, .dash = "2 2"};
const Look lower_look{.fill = "#dfe6ea", .stroke = ink::steel, .width = 1};

/// Calls `what` with each clamp and its name.
template <class F> void each_clamp(const Piece& piece, F what) {
    for (const Load& load : piece.loads)
        if (const auto* clamp = std::get_if<ClampLoad>(&load.kind)) what(*clamp, load.name);
}

std::vector<Point> pad(Point at, double size_x, double size_y, const View& view) {
    const double x = size_x / 2, y = size_y / 2;
    return {view({at.x - x, at.y - y}), view({at.x + x, at.y - y}), view({at.x + x, at.y + y}),
            view({at.x - x, at.y + y})};
}

void draw_arrow(Svg& svg, Point from, Point to) {
    const double length = std::hypot(to.x - from.x, to.y - from.y);
    if (length <= 0) return;
    constexpr double longest = 24; // units of the picture: what hangs may be far outside it
    const double reach = std::min(length, longest);
    const Point t{(to.x - from.x) / length, (to.y - from.y) / length},
        tip{from.x + reach * t.x, from.y + reach * t.y};
    const Look look{.stroke = ink::steel, .width = 1.2};
    svg.line(from, tip, look);
    for (const double side : {1.0, -1.0})
        svg.line(tip, {tip.x - 6 * t.x - side * 3 * t.y, tip.y - 6 * t.y + side * 3 * t.x}, look);
}

} // namespace

void draw_clamps(Svg& svg, const Piece& piece, const View& view) {
    each_clamp(piece, [&](const ClampLoad& clamp, const std::string&) {
        svg.polygon(pad(clamp.at, clamp.below_x, clamp.below_y, view), lower_look);
        svg.polygon(pad(clamp.at, clamp.above_x, clamp.above_y, view), upper_look);
        draw_arrow(svg, view(clamp.at), view(clamp.hangs_at));
    });
}

void put_clamp_names(Svg& svg, Placer& placer, const Piece& piece, const View& view, double size) {
    const Lettering lettering{
        .size = size, .fill = ink::steel, .anchor = Anchor::middle, .bold = true, .halo = ink::paper};
    each_clamp(piece, [&](const ClampLoad& clamp, const std::string& name) {
        const std::vector<Point> corners = pad(clamp.at, std::max(clamp.above_x, clamp.below_x),
                                               std::max(clamp.above_y, clamp.below_y), view);
        const Point at = view(clamp.at);
        const double half = std::abs(corners[0].x - at.x) + width_of_words(name, size) * 0.55 + 4;
        std::vector<Point> places;
        for (const double far : {half, half + 12, half + 24})
            for (const double side : {1.0, -1.0})
                for (const double up : {0.0, -size, size, -2 * size, 2 * size})
                    places.push_back({at.x + side * far, at.y + up + 0.35 * size});
        if (const auto place = placer.place(name, lettering, places)) svg.text(*place, name, lettering);
    });
}

std::string clamps_told(const Piece& piece, Units units) {
    std::string text;
    each_clamp(piece, [&](const ClampLoad& clamp, const std::string& name) {
        text += " Clamp " + name + " at " + place_text(clamp.at, units) + " " + place_unit(units) + ".";
    });
    return text;
}

std::string clamp_caption(const Piece& piece) {
    const bool clamps = std::any_of(piece.loads.begin(), piece.loads.end(), [](const Load& load) {
        return std::holds_alternative<ClampLoad>(load.kind);
    });
    return clamps ? " A clamp: its lower pad, the upper one dotted, an arrow towards what hangs on it." : "";
}

} // namespace hollowtop::cli
