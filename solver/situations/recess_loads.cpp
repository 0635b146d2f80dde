// SPDX-License-Identifier: MIT
#include "solver/situations/recess_loads.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/panel.hpp"
#include "materials/section.hpp"
#include "materials/sheet.hpp"
#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"
#include "solver/piece/kept_region.hpp"
#include "solver/shell/loads.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

constexpr double m3_per_mm3 = 1e-9;

double length_of(const WallLine& line) {
    return std::hypot(line.to.x - line.from.x, line.to.y - line.from.y);
}

/// Of a range the greater end, as a weight; of a bound what it names.
double upper(const std::optional<materials::Range>& range) {
    if (!range) return 0;
    return range->high.value_or(range->low.value_or(0));
}
double lower(const std::optional<materials::Range>& range) {
    if (!range) return 0;
    return range->low.value_or(range->high.value_or(0));
}

double density_of_top(const Piece& piece) {
    if (!piece.top.wood.empty()) return wood_constants_of(piece.top).density_kg_m3;
    if (piece.top.measured.density_kg_m3) return *piece.top.measured.density_kg_m3;
    if (piece.top.elastic) return piece.top.elastic->density_kg_m3.value_or(0);
    if (!piece.top.sheet.empty()) return upper(materials::find_sheet(piece.top.sheet).density_kg_m3);
    return 0;
}

void add_load(Piece& piece, std::string name, Duration duration, double force, const WallLine& line) {
    if (!(force > 0)) return;
    piece.loads.push_back(
        {.name = std::move(name),
         .duration = duration,
         .kind = LineLoad{.force = force, .from = line.from, .to = line.to, .travels = false, .over = {}}});
}

void add_kept(Piece& piece, const Kept& kept, const RecessTraces& traces) {
    if (!(kept.weight_N > 0) || kept.hangs_on == HangsOn::base) return;
    const Rectangle box = footprint_of(kept, traces);
    if (kept.hangs_on == HangsOn::skin) {
        piece.loads.push_back({.name = kept.name + ", on the skin",
                               .duration = Duration::long_term,
                               .kind = PatchLoad{.force = kept.weight_N,
                                                 .at = place_of(kept, traces),
                                                 .size_x = kept.size_x,
                                                 .size_y = kept.size_y,
                                                 .travels = false,
                                                 .over = {}}});
        return;
    }
    const Runners runners = runners_of(box, traces);
    for (const WallLine& line : runners.lines)
        add_load(piece, kept.name + ", on a runner", Duration::long_term, kept.weight_N / 2, line);
}

void add_cover(Piece& piece, const Recess& recess) {
    const double weight = stuff_of_cover(piece, recess).mass_kg * standard_gravity;
    const std::vector<WallLine> edge = edge_of_cover(recess, piece.top.outline);
    double all = 0;
    for (const WallLine& line : edge) all += length_of(line);
    for (const WallLine& line : edge)
        add_load(piece, "cover of " + recess.name, Duration::permanent, weight * length_of(line) / all, line);
}

/// Empty where the board is not made for that service class, or no factor is published.
std::optional<materials::Sourced> k_def_of_sheet(const materials::Sheet& sheet, int service_class) {
    try {
        return materials::panel_k_def(sheet, service_class);
    } catch (const Error&) {
        return std::nullopt;
    }
}

} // namespace

CoverStuff stuff_of_cover(const Piece& piece, const Recess& recess) {
    const Cover& cover = *recess.cover;
    CoverStuff stuff;
    if (!cover.sheet.empty()) {
        const materials::Sheet& sheet = materials::find_sheet(cover.sheet);
        stuff.material = sheet.name + materials::cited(sheet.source, sheet.status);
        stuff.density_kg_m3 = upper(sheet.density_kg_m3);
        const double along = lower(sheet.E_along), across = lower(sheet.E_across);
        stuff.E = across > 0 ? std::min(along, across) : along;
        stuff.creep = k_def_of_sheet(sheet, piece.allowables.service_class);
    } else {
        const materials::Wood& wood = materials::find_wood(cover.wood);
        const materials::WoodConstants constants =
            materials::wood_constants(wood, piece.top.moisture_percent);
        stuff.material = wood.common_name + materials::cited(wood.source, wood.status);
        stuff.density_kg_m3 = constants.density_kg_m3;
        stuff.E = std::min(constants.E_R, constants.E_T);
        stuff.creep = materials::k_def(piece.allowables.service_class);
    }
    const RecessTraces traces = traces_of(recess, piece.top.outline);
    stuff.mass_kg = area_of_cover(traces) * cover.thickness * stuff.density_kg_m3 * m3_per_mm3;
    if (!cover.trim.empty()) {
        const materials::Section trim = materials::parse_section(cover.trim);
        double length = 0;
        for (const WallLine& line : edge_of_cover(recess, piece.top.outline)) length += length_of(line);
        stuff.trim_kg = trim.area * length * density_of_top(piece) * m3_per_mm3;
        stuff.mass_kg += stuff.trim_kg;
    }
    return stuff;
}

double mass_of_covers(const Piece& piece) {
    double mass = 0;
    for (const Recess& recess : piece.recesses)
        if (recess.cover) mass += stuff_of_cover(piece, recess).mass_kg;
    return mass;
}

Piece with_recess_loads(const Piece& piece) {
    const bool holds = std::any_of(piece.recesses.begin(), piece.recesses.end(), [](const Recess& recess) {
        return !recess.holds.empty() || recess.cover;
    });
    if (piece.holds_weigh || !holds) return piece;
    Piece result = piece;
    result.holds_weigh = true;
    for (const Recess& recess : piece.recesses) {
        if (recess.holds.empty() && !recess.cover) continue;
        const RecessTraces traces = traces_of(recess, piece.top.outline);
        for (const Kept& kept : recess.holds) add_kept(result, kept, traces);
        if (recess.cover && piece.self_weight) add_cover(result, recess);
    }
    return result;
}

} // namespace hollowtop
