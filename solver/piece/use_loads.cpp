// SPDX-License-Identifier: MIT
#include "solver/piece/use_loads.hpp"

#include "materials/digits.hpp"
#include "materials/uses.hpp"
#include "solver/piece/loop.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

using materials::UseLoad;

constexpr double MPa_per_kPa = 1e-3, m_per_mm = 1e-3;

LoadFor purpose_of(const UseLoad& row) {
    switch (row.judged_for) {
    case UseLoad::For::everyday:
        return LoadFor::everyday;
    case UseLoad::For::strength:
        return LoadFor::strength;
    case UseLoad::For::stability:
        return LoadFor::stability;
    }
    return LoadFor::everyday;
}

/// A patch whose middle travels so far inside the edge, on a top of any size.
void keep_inside_edge(PatchLoad& patch, const Top& top) {
    const double inside = materials::edge_place_mm;
    // a disc as large as the patch must find room on a narrow top
    const double widest = std::min(top.length, top.width) * std::sqrt(std::numbers::pi) / 2;
    patch.size_x = std::min(patch.size_x, widest);
    patch.size_y = std::min(patch.size_y, widest);
    const double x = std::min(inside, top.length / 2) - patch.size_x / 2;
    const double y = std::min(inside, top.width / 2) - patch.size_y / 2;
    patch.over = Rectangle{x, top.length - x, y, top.width - y};
}

/// Does the line leave the top on the way, as the middle of an L does?
bool leaves_the_top(const Loop& outline, Point from, Point to) {
    constexpr int n = 40, most = 2; // of them outside: an edge that is not quite straight
    int outside = 0;
    for (int k = 0; k < n; ++k) {
        const double share = (k + 0.5) / n;
        if (!is_inside(outline, {from.x + share * (to.x - from.x), from.y + share * (to.y - from.y)}))
            ++outside;
    }
    return outside > most;
}

/// Half way along the longer side, the middle of the longest stretch of wood across.
Point middle_of_long_wing(const Loop& outline, const Top& top) {
    const bool is_long_in_x = top.length >= top.width;
    constexpr int n = 200;
    const auto at = [&](double k) {
        return is_long_in_x ? Point{top.length / 2, top.width * k / n}
                            : Point{top.length * k / n, top.width / 2};
    };
    int best_from = 0, best = 0;
    for (int k = 0, run = 0; k < n; ++k) {
        run = is_inside(outline, at(k + 0.5)) ? run + 1 : 0;
        if (run > best) best = run, best_from = k + 1 - run;
    }
    return at(best_from + best / 2.0);
}

/// The end, or where the way from it to the middle comes onto the top: ends of a slab are not straight.
Point end_on_top(const Loop& outline, Point end, Point middle) {
    const auto at = [&](double share) {
        return Point{end.x + share * (middle.x - end.x), end.y + share * (middle.y - end.y)};
    };
    constexpr double beside = 1e-6;
    if (is_inside(outline, at(beside)) || !is_inside(outline, middle)) return end;
    double off = 0, on = 1;
    for (int k = 0; k < 40; ++k) {
        const double share = (off + on) / 2;
        (is_inside(outline, at(share)) ? on : off) = share;
    }
    return at(on);
}

/// The width of a strip of that area and circumference, straight or bent: of a rectangle its shorter side, of an L that
/// of its wings, from area = width (circumference / 2 - width).
double width_as_of_strip(const PolygonShape& shape) {
    const double area = std::abs(area_of(loop_of(shape)));
    double half = 0;
    for (std::size_t k = 0; k < shape.points.size(); ++k) {
        const Point a = shape.points[k], b = shape.points[(k + 1) % shape.points.size()];
        half += std::hypot(b.x - a.x, b.y - a.y) / 2;
    }
    return (half - std::sqrt(std::max(0.0, half * half - 4 * area))) / 2;
}

Load load_of(const UseLoad& row, const Top& top) {
    Load load{.name = row.name, .duration = row.duration, .kind = AreaLoad{}, .judged_for = purpose_of(row)};
    const bool is_long_in_x = top.length >= top.width;
    const Point middle{top.length / 2, top.width / 2};
    switch (row.kind) {
    case UseLoad::Kind::area:
        load.kind = AreaLoad{.pressure = row.value * MPa_per_kPa, .over = {}};
        break;
    case UseLoad::Kind::patch: {
        // the longer side lies along the top's longer side; nothing is larger than the top
        const double longer = std::max(row.size_x, row.size_y), shorter = std::min(row.size_x, row.size_y);
        PatchLoad patch{.force = row.value,
                        .at = middle,
                        .size_x = std::min(is_long_in_x ? longer : shorter, top.length),
                        .size_y = std::min(is_long_in_x ? shorter : longer, top.width),
                        .travels = row.where == UseLoad::Where::worst || row.where == UseLoad::Where::edge,
                        .over = {}};
        if (row.where == UseLoad::Where::edge) keep_inside_edge(patch, top);
        const auto* polygon = std::get_if<PolygonShape>(&top.outline);
        if (polygon && !patch.travels &&
            !is_inside(loop_of(*polygon), middle)) { // the middle of an L is in the air
            if (stays(row.duration))                 // of what stays the worst place is not sought
                patch.at = middle_of_long_wing(loop_of(*polygon), top);
            else
                patch.travels = true;
        }
        load.kind = patch;
        break;
    }
    case UseLoad::Kind::line: {
        const Point from = is_long_in_x ? Point{0, middle.y} : Point{middle.x, 0};
        const Point to = is_long_in_x ? Point{top.length, middle.y} : Point{middle.x, top.width};
        load.kind = LineLoad{.force = row.value * m_per_mm * std::max(top.length, top.width),
                             .from = from,
                             .to = to,
                             .travels = row.where == UseLoad::Where::worst,
                             .over = {}};
        if (const auto* polygon = std::get_if<PolygonShape>(&top.outline)) {
            const Loop outline = loop_of(*polygon);
            auto& line = std::get<LineLoad>(load.kind);
            if (leaves_the_top(outline, from, to)) // they sit along all of it
                load.kind =
                    AreaLoad{.pressure = row.value * m_per_mm / width_as_of_strip(*polygon), .over = {}};
            else
                line.from = end_on_top(outline, from, middle), line.to = end_on_top(outline, to, middle);
        }
        break;
    }
    }
    return load;
}

/// Of the loads that are not judged for everything.
const char* judged(const UseLoad& row) {
    switch (row.judged_for) {
    case UseLoad::For::everyday:
        return "";
    case UseLoad::For::strength:
        return ", judged for strength, not for how far the top gives";
    case UseLoad::For::stability:
        return ", judged for tipping and lifting off alone";
    }
    return "";
}

/// A load along a line is so many N per m in all units.
Message amount_of(const UseLoad& row) {
    const Unit unit = unit_of(row.unit);
    if (unit == Unit::none) return said("{} {}", number(row.value, significant(4)), row.unit);
    return amount(row.value, unit, significant(4));
}

void set_limit(MovementLimit& limit, double divisor, const materials::Use& use) {
    if (limit.is_stated) return;
    limit = {.is_share_of_span = true,
             .divisor = divisor,
             .length = 0,
             .is_stated = false,
             .source = said("use \"{}\": {}, {}", use.id, use.source, use.status)};
}

void set_flatness(Limits& limits, const materials::Use& use) {
    if (!use.flatness) {
        limits.need_not_be_flat = true;
        return;
    }
    if (limits.flatness) return; // the maker's, and after the years twice that or the maker's
    limits.flatness = use.flatness;
    if (!limits.flatness_years) limits.flatness_years = use.flatness_years;
    limits.flatness_source = said("use \"{}\": {}, {}", use.id, use.source, use.status);
}

} // namespace

Piece with_use(const Piece& piece) {
    if (piece.use.empty()) return piece;
    const materials::Use& use = materials::find_use(piece.use);
    Piece result = piece;
    result.use.clear();
    for (const UseLoad& row : use.loads) result.loads.push_back(load_of(row, piece.top));
    set_limit(result.limits.sag, use.sag_divisor, use);
    set_limit(result.limits.sag_years, use.sag_years_divisor, use);
    set_flatness(result.limits, use);
    return result;
}

std::vector<Message> told_of_use(const Piece& piece) {
    if (piece.use.empty()) return {};
    const materials::Use& use = materials::find_use(piece.use);
    std::vector<Message> told{said(
        "The loads of the use \"{}\" are a set to reckon with; meeting the limits under them says nothing of "
        "any standard, which is met or not by a test of the finished piece.",
        use.id)};
    for (const UseLoad& row : use.loads)
        told.push_back(said("From the use \"{}\": {}, {}{} ({}; {}).", use.id, row.name, amount_of(row),
                            judged(row), row.source, row.status));
    if (!use.note.empty()) told.push_back(said("Of the use \"{}\": {}.", use.id, use.note));
    return told;
}

} // namespace hollowtop
