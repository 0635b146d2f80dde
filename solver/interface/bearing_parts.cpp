// SPDX-License-Identifier: MIT
#include "solver/interface/bearing_parts.hpp"

#include "materials/section.hpp"
#include "solver/interface/levels.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {

bool stands_under(const Pad& pad, Point from, Point to, double width) {
    const double length = std::hypot(to.x - from.x, to.y - from.y);
    const Point along{(to.x - from.x) / length, (to.y - from.y) / length},
        centre{(from.x + to.x) / 2, (from.y + to.y) / 2}, d{pad.at.x - centre.x, pad.at.y - centre.y};
    const double s = d.x * along.x + d.y * along.y, y = d.y * along.x - d.x * along.y;
    return std::abs(y) <= width / 2 && std::abs(s) < length / 2 - std::max(pad.size_x, pad.size_y);
}

bool carries_a_rail(const Piece& piece, const Pad& pad) {
    return std::any_of(piece.supports.begin(), piece.supports.end(), [&](const Support& support) {
        const auto* rail = std::get_if<Rail>(&support.kind);
        return rail && stands_under(pad, rail->from, rail->to, materials::parse_section(rail->section).width);
    });
}

std::vector<Support> parts_that_bear(const Piece& piece, const ThicknessField& field) {
    std::vector<Support> parts;
    const auto is_rest = [](int region) { return region <= full_thickness; };
    const auto add_stretches = [&](const Support& support, const auto& line) {
        constexpr double least = 1; // mm
        const Point d{line.to.x - line.from.x, line.to.y - line.from.y},
            centre{(line.from.x + line.to.x) / 2, (line.from.y + line.to.y) / 2};
        const double length = std::hypot(d.x, d.y);
        const Point axis{d.x / length, d.y / length};
        for (const LevelStretch& stretch : levels_along(field, centre, axis, length / 2)) {
            if (!is_rest(stretch.region) || stretch.to - stretch.from < least) continue;
            auto part = line;
            part.from = {centre.x + stretch.from * axis.x, centre.y + stretch.from * axis.y};
            part.to = {centre.x + stretch.to * axis.x, centre.y + stretch.to * axis.y};
            parts.push_back({support.name, part});
        }
    };
    for (const Support& support : piece.supports) {
        if (const auto* pad = std::get_if<Pad>(&support.kind)) {
            const std::vector<Point> places =
                level_samples(pad->at, {1, 0}, pad->size_x / 2, pad->size_y / 2);
            if (pad->packed || carries_a_rail(piece, *pad) ||
                std::any_of(places.begin(), places.end(),
                            [&](Point at) { return is_rest(region_at(field, at)); }))
                parts.push_back(support);
        } else if (const auto* rail = std::get_if<Rail>(&support.kind)) {
            add_stretches(support, *rail);
        } else if (const auto* bearer = std::get_if<Bearer>(&support.kind);
                   bearer && bearer->width > 0 && !bearer->packed) {
            add_stretches(support, *bearer);
        } else {
            parts.push_back(support);
        }
    }
    return parts.empty() ? piece.supports : parts;
}

} // namespace hollowtop
