// SPDX-License-Identifier: MIT
#include "solver/check/symmetry.hpp"

#include "materials/duration.hpp"
#include "solver/interface/screw_places.hpp"
#include "solver/section/top_material.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <type_traits>
#include <variant>
#include <vector>

namespace hollowtop {
namespace {

constexpr double slack = 1e-6; // mm

bool is_same(double a, double b) { return std::abs(a - b) < slack; }
bool is_same(Point a, Point b) { return is_same(a.x, b.x) && is_same(a.y, b.y); }
bool is_same(const Rectangle& a, const Rectangle& b) {
    return is_same(a.x0, b.x0) && is_same(a.x1, b.x1) && is_same(a.y0, b.y0) && is_same(a.y1, b.y1);
}

/// x -> length - x, or y -> width - y.
struct Mirror {
    bool in_x = true;
    double about = 0;

    Point operator()(Point p) const { return in_x ? Point{about - p.x, p.y} : Point{p.x, about - p.y}; }
    Rectangle operator()(const Rectangle& r) const {
        return in_x ? Rectangle{about - r.x1, about - r.x0, r.y0, r.y1}
                    : Rectangle{r.x0, r.x1, about - r.y1, about - r.y0};
    }
};

/// Is each of the list the image of one of it?
template <class Items, class IsImage> bool all_mirrored(const Items& items, IsImage is_image) {
    return std::all_of(items.begin(), items.end(), [&](const auto& item) {
        return std::any_of(items.begin(), items.end(),
                           [&](const auto& other) { return is_image(item, other); });
    });
}

bool is_image(const Land& land, const Land& other, const Mirror& mirror) {
    const auto *a = std::get_if<RectangleShape>(&land.shape), *b = std::get_if<RectangleShape>(&other.shape);
    return a && b && is_same(mirror(a->box), b->box) && a->corner_radius == b->corner_radius;
}

bool is_image(const Recess& recess, const Recess& other, const Mirror& mirror) {
    if (recess.surveyed || other.surveyed) return false;
    if (recess.depth != other.depth || recess.root_radius != other.root_radius ||
        !(recess.cover == other.cover) || recess.lands.size() != other.lands.size())
        return false;
    const auto image_of_land = [&](const Land& land) {
        return std::any_of(other.lands.begin(), other.lands.end(),
                           [&](const Land& there) { return is_image(land, there, mirror); });
    };
    if (!std::all_of(recess.lands.begin(), recess.lands.end(), image_of_land)) return false;
    if (const auto* box = std::get_if<RectangleShape>(&recess.shape)) {
        const auto* there = std::get_if<RectangleShape>(&other.shape);
        return there && is_same(mirror(box->box), there->box) && box->corner_radius == there->corner_radius;
    }
    const auto* rim = std::get_if<RimShape>(&recess.shape);
    return rim != nullptr && recess.shape == other.shape;
}

/// Ends in either order.
template <class Line> bool lies_as_image(const Line& line, const Line& other, const Mirror& mirror) {
    const Point from = mirror(line.from), to = mirror(line.to);
    return (is_same(from, other.from) && is_same(to, other.to)) ||
           (is_same(from, other.to) && is_same(to, other.from));
}

/// A section with two unlike sides, an angle for one, turns with the way it is drawn: the image runs the other
/// way. Screws are counted from the start.
bool is_image(const Stiffener& bar, const Stiffener& other, const Mirror& mirror) {
    if (bar.section != other.section || bar.metal != other.metal || bar.wood != other.wood ||
        !(bar.elastic == other.elastic) || bar.screws.diameter != other.screws.diameter ||
        bar.screws.length != other.screws.length || bar.screws.holes != other.screws.holes ||
        bar.screws.stiffness != other.screws.stiffness || bar.screws.slot_length != other.screws.slot_length)
        return false;
    if (!is_same(mirror(bar.from), other.to) || !is_same(mirror(bar.to), other.from)) return false;
    std::vector<double> places = screw_places(bar);
    const std::vector<double> there = screw_places(other);
    const double length = std::hypot(bar.to.x - bar.from.x, bar.to.y - bar.from.y);
    std::reverse(places.begin(), places.end());
    return std::equal(places.begin(), places.end(), there.begin(), there.end(),
                      [&](double a, double b) { return is_same(length - a, b); });
}

bool is_image(const Support& support, const Support& other, const Mirror& mirror) {
    return std::visit(
        [&](const auto& kind) {
            using Kind = std::decay_t<decltype(kind)>;
            const auto* there = std::get_if<Kind>(&other.kind);
            if (there == nullptr) return false;
            Kind moved = kind;
            if constexpr (requires { moved.at; }) {
                if (!is_same(mirror(kind.at), there->at)) return false;
                moved.at = there->at;
            } else if constexpr (std::is_same_v<Kind, Rail>) { // its section turns as a stiffener's does
                if (!is_same(mirror(kind.from), there->to) || !is_same(mirror(kind.to), there->from))
                    return false;
                moved.from = there->from, moved.to = there->to;
            } else {
                if (!lies_as_image(kind, *there, mirror)) return false;
                moved.from = there->from, moved.to = there->to;
            }
            return moved == *there;
        },
        support.kind);
}

bool is_image(const Load& load, const Load& other, const Mirror& mirror) {
    if (load.duration != other.duration || load.judged_for != other.judged_for) return false;
    if (const auto* area = std::get_if<AreaLoad>(&load.kind)) {
        const auto* there = std::get_if<AreaLoad>(&other.kind);
        return there && area->pressure == there->pressure &&
               area->over.has_value() == there->over.has_value() &&
               (!area->over || is_same(mirror(*area->over), *there->over));
    }
    if (const auto* patch = std::get_if<PatchLoad>(&load.kind)) {
        const auto* there = std::get_if<PatchLoad>(&other.kind);
        return there && patch->force == there->force && is_same(mirror(patch->at), there->at) &&
               patch->size_x == there->size_x && patch->size_y == there->size_y;
    }
    if (const auto* line = std::get_if<LineLoad>(&load.kind)) {
        const auto* there = std::get_if<LineLoad>(&other.kind);
        return there && line->force == there->force && lies_as_image(*line, *there, mirror);
    }
    const auto *clamp = std::get_if<ClampLoad>(&load.kind), *there = std::get_if<ClampLoad>(&other.kind);
    if (!clamp || !there) return false;
    ClampLoad moved = *clamp;
    moved.at = mirror(clamp->at), moved.hangs_at = mirror(clamp->hangs_at);
    return is_same(moved.at, there->at) && is_same(moved.hangs_at, there->hangs_at) &&
           moved.force == there->force && moved.above_x == there->above_x &&
           moved.above_y == there->above_y && moved.below_x == there->below_x &&
           moved.below_y == there->below_y;
}

/// Boards of unlike stiffness, turned over across themselves.
bool boards_are_mirrored(const Top& top, const Mirror& mirror) {
    const BoardShares boards = board_shares_of(top);
    const bool across_x = boards.across.y == 0;
    if (boards.lines.empty() || mirror.in_x != across_x) return true;
    const std::size_t n = boards.lines.size();
    for (std::size_t i = 0; i < n; ++i)
        if (!is_same(boards.lines[i] + boards.lines[n - 1 - i], mirror.about)) return false;
    return std::equal(boards.kind.begin(), boards.kind.end(), boards.kind.rbegin());
}

/// An outline that is no polygon fills its box, which is the top's.
bool is_symmetric(const Piece& piece, const Mirror& mirror) {
    const double turns = piece.top.grain_deg / 90;
    if (turns != std::round(turns) || std::holds_alternative<PolygonShape>(piece.top.outline) ||
        piece.top.surveyed)
        return false;
    if (std::any_of(piece.recesses.begin(), piece.recesses.end(),
                    [](const Recess& recess) { return !recess.holds.empty(); }))
        return false;
    if (!boards_are_mirrored(piece.top, mirror)) return false;
    std::vector<Load> standing = piece.loads;
    std::erase_if(standing, [](const Load& load) { return !stays(load.duration); });
    const auto image = [&](const auto& item, const auto& other) { return is_image(item, other, mirror); };
    return all_mirrored(piece.recesses, image) && all_mirrored(piece.stiffeners, image) &&
           all_mirrored(piece.supports, image) && all_mirrored(standing, image);
}

} // namespace

Symmetry symmetry_of(const Piece& piece) {
    return {.x = is_symmetric(piece, {.in_x = true, .about = piece.top.length}),
            .y = is_symmetric(piece, {.in_x = false, .about = piece.top.width})};
}

Symmetry symmetry_of(const Load& load, const Top& top) {
    std::optional<Rectangle> over;
    if (const auto* patch = std::get_if<PatchLoad>(&load.kind)) over = patch->over;
    if (const auto* line = std::get_if<LineLoad>(&load.kind)) {
        if (!is_same(line->from.x, line->to.x) && !is_same(line->from.y, line->to.y)) return {};
        over = line->over;
    }
    if (!over) return {.x = true, .y = true};
    return {.x = is_same(Mirror{true, top.length}(*over), *over),
            .y = is_same(Mirror{false, top.width}(*over), *over)};
}

} // namespace hollowtop
