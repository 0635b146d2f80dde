// SPDX-License-Identifier: MIT
#include "materials/screw.hpp"
#include "solver/variants/edits.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <variant>

namespace hollowtop {
namespace {

/// Where a bar may run under a top without a recess, along its length: between the outermost supports that
/// cross its line, 20 mm clear of them; nothing where one stands in the middle.
std::optional<std::pair<double, double>> free_run(const Piece& piece, double y) {
    constexpr double clear = 20, from_the_end = 40;
    double low = from_the_end, high = piece.top.length - from_the_end;
    for (const Support& support : piece.supports) {
        double x0 = 0, x1 = 0, y0 = 0, y1 = 0, half = 0;
        if (const auto* pad = std::get_if<Pad>(&support.kind)) {
            x0 = pad->at.x - pad->size_x / 2, x1 = pad->at.x + pad->size_x / 2;
            y0 = pad->at.y - pad->size_y / 2, y1 = pad->at.y + pad->size_y / 2;
        } else {
            const auto ends = [&](const auto& kind) {
                if constexpr (requires { kind.from; }) {
                    if constexpr (requires { kind.width; }) half = kind.width / 2;
                    x0 = std::min(kind.from.x, kind.to.x) - half,
                    x1 = std::max(kind.from.x, kind.to.x) + half;
                    y0 = std::min(kind.from.y, kind.to.y) - half,
                    y1 = std::max(kind.from.y, kind.to.y) + half;
                }
            };
            std::visit(ends, support.kind);
        }
        if (y < y0 - clear || y > y1 + clear) continue;
        if (x1 < piece.top.length / 3)
            low = std::max(low, x1 + clear);
        else if (x0 > piece.top.length * 2 / 3)
            high = std::min(high, x0 - clear);
        else
            return std::nullopt;
    }
    if (high - low < 300) return std::nullopt;
    return std::pair{low, high};
}

} // namespace

std::optional<Stiffener> first_stiffener(const Piece& piece) {
    std::optional<Rectangle> largest;
    double wood = piece.top.thickness, area = 0;
    for (const Recess& recess : piece.recesses) {
        const auto box = straight_box_of(recess, piece.top);
        if (!box) return std::nullopt;
        if ((box->x1 - box->x0) * (box->y1 - box->y0) <= area) continue;
        area = (box->x1 - box->x0) * (box->y1 - box->y0);
        largest = box;
        wood = piece.top.thickness - recess.depth;
    }
    constexpr double grip = 3, to_the_face = 6, clear = 25,
                     longest = 35; // mm; the angle's leg; common practice
    const double thread = std::min(wood - to_the_face, longest - grip);
    static constexpr std::array<double, 4> usual{4.5, 4, 3.5, 3};
    const auto* thickest = std::find_if(usual.begin(), usual.end(), [&](double diameter) {
        return thread >= materials::least_thread().value * diameter + 1; // the point counts for nothing
    });
    if (thickest == usual.end()) return std::nullopt;
    Stiffener bar{.name = "stiffener 1",
                  .section = "angle 30x30x3",
                  .metal = "S235",
                  .wood = "",
                  .elastic = {},
                  .from = {},
                  .to = {},
                  .screws = Screws{.diameter = *thickest,
                                   .length = std::floor(grip + thread),
                                   .spacing = 150,
                                   .at = {},
                                   .holes = Holes::slotted,
                                   .stiffness = {}}};
    if (largest) {
        const bool along_x = largest->x1 - largest->x0 >= largest->y1 - largest->y0;
        put_bar(bar, piece, along_x ? Way::x : Way::y,
                along_x ? (largest->y0 + largest->y1) / 2 : (largest->x0 + largest->x1) / 2,
                along_x ? std::pair{largest->x0 + clear, largest->x1 - clear}
                        : std::pair{largest->y0 + clear, largest->y1 - clear});
    } else {
        const double y = piece.top.width / 2;
        const auto run = free_run(piece, y);
        if (!run) return std::nullopt;
        put_bar(bar, piece, Way::x, y, run);
    }
    if (std::hypot(bar.to.x - bar.from.x, bar.to.y - bar.from.y) < 300) return std::nullopt;
    return bar;
}

} // namespace hollowtop
