// SPDX-License-Identifier: MIT
#include "solver/piece/ends.hpp"

#include <cmath>

namespace hollowtop {
namespace {

constexpr double off_deg = 1e-6;

bool runs_along_x(double grain_deg) { return std::abs(std::remainder(grain_deg, 180.0)) < off_deg; }
bool runs_along_y(double grain_deg) { return std::abs(std::remainder(grain_deg - 90, 180.0)) < off_deg; }

} // namespace

bool may_have_ends(const Top& top) {
    return std::holds_alternative<RectangleShape>(top.outline) &&
           (runs_along_x(top.grain_deg) || runs_along_y(top.grain_deg));
}

std::array<EndBoard, 2> end_boards(const Piece& piece) {
    const Rectangle& box = std::get<RectangleShape>(piece.top.outline).box;
    const double w = piece.ends->width;
    const auto board = [](const Rectangle& band, bool along_y) {
        const double x = (band.x0 + band.x1) / 2, y = (band.y0 + band.y1) / 2;
        return along_y ? EndBoard{band, {x, band.y0}, {x, band.y1}}
                       : EndBoard{band, {band.x0, y}, {band.x1, y}};
    };
    if (runs_along_x(piece.top.grain_deg))
        return {board({box.x0, box.x0 + w, box.y0, box.y1}, true),
                board({box.x1 - w, box.x1, box.y0, box.y1}, true)};
    return {board({box.x0, box.x1, box.y0, box.y0 + w}, false),
            board({box.x0, box.x1, box.y1 - w, box.y1}, false)};
}

std::vector<double> peg_places(const Ends& ends, double length) {
    std::vector<double> places;
    const double apart = length / ends.pegs;
    for (int i = 0; i < ends.pegs; ++i) places.push_back((i + 0.5) * apart - length / 2);
    return places;
}

} // namespace hollowtop
