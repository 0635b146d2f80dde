// SPDX-License-Identifier: MIT
#include "solver/variants/changes.hpp"

#include "materials/panel.hpp"
#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"
#include "solver/capacity/limits.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

/// Every modulus by that factor.
void scale_stiffness(Top& top, double factor) {
    if (top.elastic) {
        for (double* modulus :
             {&top.elastic->E1, &top.elastic->E2, &top.elastic->G12, &top.elastic->G13, &top.elastic->G23})
            *modulus *= factor;
        if (top.elastic->E3) *top.elastic->E3 *= factor;
        return;
    }
    if (!top.sheet.empty()) {
        const materials::Sheet& sheet = materials::find_sheet(top.sheet);
        top.measured.E_along = factor * materials::panel_constants(sheet, top.measured.E_along).E1;
        return;
    }
    for (Board& board : top.each_board)
        if (board.measured.E_along) *board.measured.E_along *= factor;
    // All moduli of a wood follow its bending modulus: look for the one that gives E_L times the factor.
    const materials::Wood& wood = materials::find_wood(top.wood);
    const auto E_L = [&](std::optional<double> measured) {
        return materials::wood_constants(wood, top.moisture_percent, measured).E_L;
    };
    constexpr double trial = 10000;
    top.measured.E_along = trial * factor * E_L(top.measured.E_along) / E_L(trial);
}

void scale_loads(Piece& piece, double factor) {
    for (Load& load : piece.loads) {
        if (auto* area = std::get_if<AreaLoad>(&load.kind)) area->pressure *= factor;
        if (auto* patch = std::get_if<PatchLoad>(&load.kind)) patch->force *= factor;
        if (auto* line = std::get_if<LineLoad>(&load.kind)) line->force *= factor;
        if (auto* clamp = std::get_if<ClampLoad>(&load.kind)) clamp->force *= factor;
    }
}

/// Supports beyond the middle third of their rectangle's longer side, moved away from its middle (towards it
/// below 0). Lines that are held as in a textbook stay. False where there is nothing to move.
bool move_supports(Piece& piece, double outwards) {
    const auto box = box_of_supports(piece);
    if (!box) return false;
    const bool along_x = box->x1 - box->x0 >= box->y1 - box->y0;
    const double low = along_x ? box->x0 : box->y0, extent = along_x ? box->x1 - box->x0 : box->y1 - box->y0;
    if (!(extent > 6 * std::abs(outwards))) return false;
    bool moved = false;
    const auto move = [&](Point& a, Point& b) {
        double &first = along_x ? a.x : a.y, &second = along_x ? b.x : b.y;
        const double off = (first + second) / 2 - (low + extent / 2);
        if (std::abs(off) <= extent / 6) return;
        const double by = off > 0 ? outwards : -outwards;
        first += by;
        if (&first != &second) second += by;
        moved = true;
    };
    for (Support& support : piece.supports) {
        if (auto* pad = std::get_if<Pad>(&support.kind)) move(pad->at, pad->at);
        if (auto* bearer = std::get_if<Bearer>(&support.kind)) move(bearer->from, bearer->to);
        if (auto* rail = std::get_if<Rail>(&support.kind)) move(rail->from, rail->to);
    }
    return moved;
}

std::optional<Change> without_its_hardest_screw(const Piece& placed, const Result& result) {
    const auto load = [](const ScrewResult& s) { return std::hypot(s.shear_N, s.withdrawal_N); };
    const auto hardest = std::max_element(result.screws.begin(), result.screws.end(),
                                          [&](const auto& a, const auto& b) { return load(a) < load(b); });
    if (hardest == result.screws.end()) return std::nullopt;
    Change change{.kind = Changed::screw_loose,
                  .step = 0,
                  .part = hardest->stiffener,
                  .at = hardest->at,
                  .piece = placed};
    for (Stiffener& bar : change.piece.stiffeners) {
        if (bar.name != hardest->stiffener) continue;
        std::vector<double> kept;
        for (const ScrewResult& screw : result.screws)
            if (screw.stiffener == bar.name && &screw != &*hardest)
                kept.push_back(std::hypot(screw.at.x - bar.from.x, screw.at.y - bar.from.y));
        if (kept.size() < 2) return std::nullopt; // the stiffener as a whole is another line
        std::sort(kept.begin(), kept.end());
        bar.screws.at = std::move(kept);
        bar.screws.spacing = 0;
        return change;
    }
    return std::nullopt;
}

} // namespace

bool is_share(Changed kind) {
    return kind == Changed::softer || kind == Changed::stiffer || kind == Changed::heavier;
}

std::vector<Change> changes_of(const Piece& placed, const Result& result) {
    std::vector<Change> all;
    const auto add = [&](Changed kind, double step) -> Piece& {
        all.push_back({.kind = kind, .step = step, .part = {}, .at = {}, .piece = placed});
        return all.back().piece;
    };
    add(Changed::thinner, length_step).top.thickness -= length_step;
    if (!placed.recesses.empty())
        for (Recess& recess : add(Changed::deeper, length_step).recesses) recess.depth += length_step;
    scale_stiffness(add(Changed::softer, share_step).top, 1 - share_step);
    scale_stiffness(add(Changed::stiffer, share_step).top, 1 + share_step);
    if (!placed.loads.empty()) scale_loads(add(Changed::heavier, share_step), 1 + share_step);
    for (const auto& [kind, outwards] :
         {std::pair{Changed::supports_out, place_step}, {Changed::supports_in, -place_step}}) {
        Piece moved = placed;
        if (move_supports(moved, outwards)) add(kind, place_step) = std::move(moved);
    }
    if (auto loose = without_its_hardest_screw(placed, result)) all.push_back(std::move(*loose));
    if (!placed.stiffeners.empty()) add(Changed::stiffeners_loose, 0).stiffeners.clear();
    return all;
}

std::optional<double> steps_to_limit(const StudyRow& base, const StudyRow& changed,
                                     const std::vector<bool>& counts, double most) {
    constexpr double noise = 1e-6;
    if (!base.passes) return std::nullopt;
    std::optional<double> least;
    for (std::size_t i = 0; i < base.uses.size(); ++i) {
        const double rise = changed.uses[i] - base.uses[i];
        if (!counts[i] || base.uses[i] < 0 || rise < noise) continue;
        const double steps = std::max(0.0, 1 - base.uses[i]) / rise;
        if (steps <= most && (!least || steps < *least)) least = steps;
    }
    return least;
}

} // namespace hollowtop
