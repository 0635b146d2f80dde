// SPDX-License-Identifier: MIT
#include "solver/analysis/use_loads.hpp"

#include "materials/digits.hpp"
#include "materials/uses.hpp"

#include <algorithm>

namespace hollowtop {
namespace {

using materials::UseLoad;

constexpr double MPa_per_kPa = 1e-3, m_per_mm = 1e-3;

Load load_of(const UseLoad& row, const Top& top) {
    Load load{.name = row.name, .duration = row.duration, .kind = AreaLoad{}};
    const bool is_long_in_x = top.length >= top.width;
    const Point middle{top.length / 2, top.width / 2};
    switch (row.kind) {
    case UseLoad::Kind::area:
        load.kind = AreaLoad{.pressure = row.value * MPa_per_kPa, .over = {}};
        break;
    case UseLoad::Kind::patch: {
        // the longer side lies along the top's longer side; nothing is larger than the top
        const double longer = std::max(row.size_x, row.size_y), shorter = std::min(row.size_x, row.size_y);
        load.kind = PatchLoad{.force = row.value,
                              .at = middle,
                              .size_x = std::min(is_long_in_x ? longer : shorter, top.length),
                              .size_y = std::min(is_long_in_x ? shorter : longer, top.width),
                              .travels = row.where == UseLoad::Where::worst,
                              .over = {}};
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
        break;
    }
    }
    return load;
}

void set_limit(MovementLimit& limit, double divisor, const materials::Use& use) {
    if (limit.is_stated) return;
    limit = {.is_share_of_span = true,
             .divisor = divisor,
             .length = 0,
             .is_stated = false,
             .source = "use \"" + use.id + "\": " + use.source + ", " + use.status};
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
    return result;
}

std::vector<std::string> told_of_use(const Piece& piece) {
    if (piece.use.empty()) return {};
    const materials::Use& use = materials::find_use(piece.use);
    std::vector<std::string> told{
        "The loads of the use \"" + use.id +
        "\" are a set to reckon with; meeting the limits under them says nothing of any standard, "
        "which is met or not by a test of the finished piece."};
    for (const UseLoad& row : use.loads)
        told.push_back("From the use \"" + use.id + "\": " + row.name + ", " +
                       materials::digits(row.value, 4) + " " + row.unit + " (" + row.source + "; " +
                       row.status + ").");
    if (!use.note.empty()) told.push_back("Of the use \"" + use.id + "\": " + use.note + ".");
    return told;
}

} // namespace hollowtop
