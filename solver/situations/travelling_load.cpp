// SPDX-License-Identifier: MIT
#include "solver/situations/travelling_load.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

Point half_size(const Load& load) {
    if (const auto* patch = std::get_if<PatchLoad>(&load.kind)) return {patch->size_x / 2, patch->size_y / 2};
    if (const auto* line = std::get_if<LineLoad>(&load.kind))
        return {std::abs(line->to.x - line->from.x) / 2, std::abs(line->to.y - line->from.y) / 2};
    return {};
}

/// The force of a stability test stands on a disc: as large as the patch, it may come so near to the edge on
/// every side.
bool disc_lies_on(const ThicknessField& field, const PatchLoad& patch, Point at) {
    constexpr int rays = 32;       // find an edge within 1 - cos(pi / 32), half a percent of the radius
    constexpr double inside = 0.5; // mm: sides are given in whole millimetres
    const double radius = std::max(std::sqrt(patch.size_x * patch.size_y / std::numbers::pi) - inside, 0.0);
    if (region_at(field, at) == outside) return false;
    for (int k = 0; k < rays; ++k) {
        const double angle = 2 * std::numbers::pi * k / rays;
        if (region_at(field, {at.x + radius * std::cos(angle), at.y + radius * std::sin(angle)}) == outside)
            return false;
    }
    return true;
}

} // namespace

bool travels(const Load& load) {
    const auto* patch = std::get_if<PatchLoad>(&load.kind);
    const auto* line = std::get_if<LineLoad>(&load.kind);
    return (patch && patch->travels) || (line && line->travels);
}

Load set_down(const Load& load, Point at) {
    Load placed = load;
    if (auto* patch = std::get_if<PatchLoad>(&placed.kind)) {
        patch->at = at;
        patch->travels = false;
        patch->over.reset();
    } else if (auto* line = std::get_if<LineLoad>(&placed.kind)) {
        const Point half{(line->to.x - line->from.x) / 2, (line->to.y - line->from.y) / 2};
        line->from = {at.x - half.x, at.y - half.y};
        line->to = {at.x + half.x, at.y + half.y};
        line->travels = false;
        line->over.reset();
    }
    return placed;
}

std::optional<Point> place_of(const Load& load) {
    if (const auto* patch = std::get_if<PatchLoad>(&load.kind)) return patch->at;
    if (const auto* line = std::get_if<LineLoad>(&load.kind))
        return Point{(line->from.x + line->to.x) / 2, (line->from.y + line->to.y) / 2};
    if (const auto* clamp = std::get_if<ClampLoad>(&load.kind)) return clamp->at;
    return std::nullopt;
}

Rectangle roaming_range(const Load& load, const Top& top) {
    std::optional<Rectangle> over;
    if (const auto* patch = std::get_if<PatchLoad>(&load.kind)) over = patch->over;
    if (const auto* line = std::get_if<LineLoad>(&load.kind)) over = line->over;
    if (const auto* area = std::get_if<AreaLoad>(&load.kind)) over = area->over;
    const Rectangle box = over.value_or(Rectangle{0, top.length, 0, top.width});
    const Point half = half_size(load);
    Rectangle range{box.x0 + half.x, box.x1 - half.x, box.y0 + half.y, box.y1 - half.y};
    if (range.x0 > range.x1) range.x0 = range.x1 = (box.x0 + box.x1) / 2;
    if (range.y0 > range.y1) range.y0 = range.y1 = (box.y0 + box.y1) / 2;
    return range;
}

bool lies_on(const ThicknessField& field, const Load& load, Point at) {
    constexpr double inside = 0.01; // mm: the very edge belongs to the top
    const auto on_top = [&](double x, double y) { return region_at(field, {x, y}) != outside; };
    if (const auto* line = std::get_if<LineLoad>(&load.kind)) {
        const double dx = (line->to.x - line->from.x) / 2, dy = (line->to.y - line->from.y) / 2;
        const double length = std::max(std::hypot(dx, dy), inside), share = 1 - inside / length;
        for (const double sx :
             {0.0, inside, -inside}) // a line along the very edge is looked at a little inside it
            for (const double sy : {0.0, inside, -inside})
                if (on_top(at.x + sx, at.y + sy) && on_top(at.x + sx - share * dx, at.y + sy - share * dy) &&
                    on_top(at.x + sx + share * dx, at.y + sy + share * dy))
                    return true;
        return false;
    }
    if (const auto* patch = std::get_if<PatchLoad>(&load.kind);
        patch && load.judged_for == LoadFor::stability)
        return disc_lies_on(field, *patch, at);
    const Point half = half_size(load);
    const double hx = std::max(half.x - inside, 0.0), hy = std::max(half.y - inside, 0.0);
    if (!on_top(at.x, at.y)) return false;
    for (const double sx : {-1.0, 1.0})
        for (const double sy : {-1.0, 1.0})
            if (!on_top(at.x + sx * hx, at.y + sy * hy)) return false;
    return true;
}

} // namespace hollowtop
