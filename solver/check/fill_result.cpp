// SPDX-License-Identifier: MIT
#include "solver/check/fill_result.hpp"

#include "materials/digits.hpp"
#include "materials/panel.hpp"
#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"
#include "solver/capacity/bar_wood.hpp"
#include "solver/capacity/screw_strength.hpp"
#include "solver/check/row_errors.hpp"
#include "solver/hand/hand_rows.hpp"
#include "solver/hand/solid_equal.hpp"
#include "solver/piece/sense.hpp"
#include "solver/readout/gather_bars.hpp"
#include "solver/section/top_material.hpp"
#include "solver/situations/recess_loads.hpp"
#include "solver/situations/travelling_load.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <variant>

namespace hollowtop {

void fill_mass(const Piece& piece, const Model& model, Result& result) {
    const double density = model.shell.plane.density;
    Mass& mass = result.mass;
    mass.solid_kg = area_of(model.shell.field.outline) * piece.top.thickness * density;
    mass.top_kg = model.volume * density;
    for (const Beam& bar : model.bars.beams)
        if (bar.weight > 0) mass.stiffeners_kg += bar.weight * bar.length / standard_gravity; // not the rails
    mass.cover_kg = mass_of_covers(piece);
    mass.total_kg = mass.top_kg + mass.stiffeners_kg + mass.cover_kg;
    mass.saved_kg = mass.solid_kg - mass.total_kg;
    mass.saved_percent = mass.solid_kg > 0 ? 100 * mass.saved_kg / mass.solid_kg : 0;
    if (density <= 0)
        result.warnings.push_back(
            "No density is given, so weights, the top's own weight and its bounce are left out.");
}

void fill_situations(const Response& response, Result& result) {
    for (const SituationResponse& s : response.situations) {
        SituationResult row{.name = s.name,
                            .duration = s.duration,
                            .stage = s.stage,
                            .sag_mm = s.sag_mm,
                            .sag_at = s.sag_at,
                            .dish_mm = s.dish_mm,
                            .dish_at = s.dish_at,
                            .applied_N = s.applied_N,
                            .reactions = {},
                            .equilibrium_error = s.equilibrium_error,
                            .tipping_factor = s.tipping_factor,
                            .buckling_factor = s.buckling_factor,
                            .probes = s.probes,
                            .residual = s.residual,
                            .tipping_factor_solid = s.tipping_factor_solid,
                            .judged_for = s.judged_for,
                            .set_down = s.set_down < 1 ? std::optional(s.set_down) : std::nullopt,
                            .tension_across = s.tension_across};
        if (s.flatness) {
            row.flatness_mm = std::abs(s.flatness->value_mm);
            row.flatness_at = s.flatness->at;
            row.straightedge = {s.flatness->from, s.flatness->to};
        }
        for (const SupportForce& force : s.supports)
            row.reactions.push_back(
                {.support = force.support, .force_N = force.force_N, .lifts = force.lifts});
        result.situations.push_back(std::move(row));
    }
}

void fill_load_positions(const Piece& piece, const Model& model, const std::vector<SolvedSituation>& solved,
                         Result& result) {
    const size_t n_before = model.loads.size() - piece.loads.size(); // the top's own weight, where it counts
    for (size_t s = 0; s < result.situations.size(); ++s)
        if (solved[s].plan.passing >= static_cast<int>(n_before))
            result.situations[s].load_at =
                place_of(piece.loads[static_cast<size_t>(solved[s].plan.passing) - n_before]);
}

void settle_travels(const Piece& piece, const Model& model, const std::vector<SolvedSituation>& solved,
                    Result& result) {
    const size_t n_before = model.loads.size() - piece.loads.size();
    for (Travel& travel : result.travels)
        for (Travel::Field& field : travel.fields) {
            const CheckResult* worst = nullptr;
            Point at;
            for (size_t s = 0; s < result.situations.size(); ++s) {
                if (solved[s].plan.passing < static_cast<int>(n_before)) continue;
                const Load& load = piece.loads[static_cast<size_t>(solved[s].plan.passing) - n_before];
                if (load.name != travel.load || !load.found_at) continue;
                for (const CheckResult& row : result.checks)
                    if (row.check == field.check && row.situation == result.situations[s].name &&
                        (worst == nullptr || row.utilisation > worst->utilisation)) {
                        worst = &row;
                        at = *load.found_at;
                    }
            }
            if (worst == nullptr) continue;
            field.worst_utilisation = worst->utilisation;
            field.worst_at = at;
        }
}

namespace {

void assume_of_sheet(const Piece& piece, Result& result) {
    const materials::Sheet& sheet = materials::find_sheet(piece.top.sheet);
    const materials::PanelConstants panel =
        materials::panel_constants(sheet, piece.top.measured.E_along, piece.top.measured.density_kg_m3);
    result.assumptions.insert(result.assumptions.end(), panel.assumptions.begin(), panel.assumptions.end());
    if (const Message off = materials::thickness_words(sheet, piece.top.thickness); !off.empty())
        result.assumptions.push_back(off);
    if (!piece.stiffeners.empty())
        result.assumptions.push_back(
            "what is wooden under the top is taken to creep as much as the sheet does");
}

} // namespace

void fill_assumptions(const Piece& piece, const Model& model, Result& result) {
    if (!piece.top.sheet.empty()) {
        assume_of_sheet(piece, result);
    } else if (!piece.top.elastic) {
        result.assumptions = wood_constants_of(piece.top).assumptions;
        if (const BoardShares shares = board_shares_of(piece.top); shares.share.size() > 1)
            result.assumptions.push_back("each board has its own modulus in its place; that is their mean by "
                                         "width, and all moduli of a board follow its own in proportion "
                                         "(judgement)");
    }
    if (piece.top.elastic && !piece.top.elastic->E3)
        result.assumptions.push_back("through the thickness, where supports press, the top is as stiff as "
                                     "across the grain (E2): no \"E3\" is given");
    const materials::Sourced creep = creep_of(piece);
    result.assumptions.push_back("Under loads that stay, " +
                                 std::string(piece.top.sheet.empty() ? "wood" : "the sheet") + " gives " +
                                 materials::digits(1 + creep.value) +
                                 " times as much after the years (k_def" + materials::cited(creep) + ").");
    if (piece.allowables.basis == AllowablesBasis::handbook && !piece.top.wood.empty() &&
        !piece.allowables.grade_is_stated)
        result.assumptions.push_back(
            "The boards are taken as sound ones whose grain runs off by no more than 1 in 10: strength "
            "ratio " +
            materials::digits(piece.allowables.grade_ratio) +
            " along the grain (Wood Handbook ch. 5, slope of grain: 0.81; from memory), 1 across it (ASTM "
            "D245 names none for tension across; from memory).");
    result.assumptions.insert(result.assumptions.end(), model.supports.assumptions.begin(),
                              model.supports.assumptions.end());
    result.warnings.insert(result.warnings.end(), model.supports.warnings.begin(),
                           model.supports.warnings.end());
}

void fill_bars(const Piece& piece, const Model& model, const std::vector<SolvedSituation>& solved,
               const Response& response, bool essentials, Result& result) {
    if (piece.stiffeners.empty()) return;
    StiffeningAnswer answer{.stiffening = {},
                            .composite_action = std::vector<double>(piece.stiffeners.size(), 0)};
    if (!essentials) {
        answer = stiffening_of(piece, model, solved, response);
        result.stiffening = answer.stiffening;
    }
    for (size_t i = 0; i < piece.stiffeners.size(); ++i) {
        const Beam& bar = model.bars.beams[static_cast<size_t>(model.bars.n_rails) + i];
        StiffenerResult row{.name = bar.name,
                            .section = bar.section.text,
                            .mass_kg = bar.weight * bar.length / standard_gravity,
                            .max_stress_MPa = 0,
                            .composite_action = answer.composite_action[i],
                            .not_judged = why_not_judged(piece, piece.stiffeners[i])};
        for (const SituationResponse& s : response.situations)
            row.max_stress_MPa = std::max(row.max_stress_MPa, std::abs(s.stiffeners[i].stress_MPa));
        result.stiffeners.push_back(std::move(row));
    }
    const std::vector<SituationResponse>& judged =
        response.designs.empty() ? response.situations : response.designs;
    ScrewUses uses(piece);
    for (size_t k = 0; k < model.bars.screws.size(); ++k) {
        const SituationResponse* worst = nullptr;
        for (const SituationResponse& s : judged)
            if (s.judged_for != LoadFor::stability &&
                (!worst || std::hypot(s.screws[k].shear_N, s.screws[k].withdrawal_N) >
                               std::hypot(worst->screws[k].shear_N, worst->screws[k].withdrawal_N)))
                worst = &s;
        if (!worst) continue;
        const ScrewForce& screw = worst->screws[k];
        result.screws.push_back({.stiffener = piece.stiffeners[static_cast<size_t>(screw.stiffener)].name,
                                 .at = screw.at,
                                 .slip_mm = screw.slip_mm,
                                 .shear_N = screw.shear_N,
                                 .withdrawal_N = screw.withdrawal_N,
                                 .utilisation = uses.of(screw, worst->duration, worst->judged_for).both});
    }
}

namespace {

/// Is something set down or held on a point or a line? Under it no mesh is fine enough.
bool has_points_or_lines(const Piece& piece) {
    return std::any_of(piece.loads.begin(), piece.loads.end(),
                       [](const Load& load) {
                           const auto* patch = std::get_if<PatchLoad>(&load.kind);
                           return std::holds_alternative<LineLoad>(load.kind) ||
                                  (patch && (patch->size_x <= 0 || patch->size_y <= 0));
                       }) ||
           std::any_of(piece.supports.begin(), piece.supports.end(), [](const Support& support) {
               const auto* pad = std::get_if<Pad>(&support.kind);
               const auto* bearer = std::get_if<Bearer>(&support.kind);
               return (pad && (pad->size_x <= 0 || pad->size_y <= 0)) || (bearer && bearer->width <= 0) ||
                      std::holds_alternative<Held>(support.kind) ||
                      std::holds_alternative<BuiltIn>(support.kind);
           });
}

} // namespace

void warn_of_mesh(const Piece& piece, Result& result) {
    if (result.mesh.reached) return;
    if (surely_fails(result)) {
        result.warnings.push_back("What fails here fails whatever the mesh errs by: sag is sure to " +
                                  materials::digits(result.mesh.sag_error_percent) + " %, stresses to " +
                                  materials::digits(result.mesh.stress_error_percent) + " %.");
        return;
    }
    result.warnings.push_back(
        "The mesh could not be made fine enough: sag is sure to " +
        materials::digits(result.mesh.sag_error_percent) + " %, stresses to " +
        materials::digits(result.mesh.stress_error_percent) + " %." +
        (has_points_or_lines(piece)
             ? " Point loads and point supports have no finite stress; spread them over their true area."
             : " Take every margin for no surer than that."));
}

void tell_of_loads(const Piece& piece, const Model& model, Result& result) {
    using materials::digits;
    const size_t n_before = model.loads.size() - piece.loads.size(); // the top's own weight, where it counts
    Message without_area;
    int n_without = 0;
    for (size_t k = n_before; k < model.loads.size(); ++k) {
        const LoadColumn& load = model.loads[k];
        const bool spreads = std::holds_alternative<AreaLoad>(piece.loads[k - n_before].kind);
        for (const Pressed& pressed : load.pressed) {
            constexpr double all = 0.995;
            if (pressed.on_top < all)
                result.warnings.push_back(said("\"{}\": {} % of its area lies on the top; {}", load.name,
                                               number(100 * pressed.on_top, significant(2)),
                                               spreads ? "what lies beyond the outline is left out."
                                                       : "its whole force is put on that part."));
            if (pressed.pressure > 0 || pressed.force <= 0) continue;
            without_area += said("{}\"{}\"", n_without > 0 ? ", " : "", load.name);
            ++n_without;
        }
        const auto* clamp = std::get_if<ClampLoad>(&piece.loads[k - n_before].kind);
        if (!clamp) continue;
        if (const double lower = clamp_forces(*clamp).lower; lower > 0)
            result.assumptions.push_back(
                said("The clamp of \"{}\" is screwed up until all of both pads just presses, with {} at the "
                     "lower one; pressures grow in a straight line across them. Looser it would press on "
                     "their edges alone.",
                     load.name, amount(lower, Unit::N)));
    }
    if (n_without > 0 && (!piece.top.elastic || piece.allowables.basis == AllowablesBasis::strength_class))
        result.assumptions.push_back(
            said("{}{} on a point or a line: how hard the wood is pressed there is not judged.", without_area,
                 n_without == 1 ? " presses" : " press"));
}

void tell_of_hanging(const Piece& piece, Result& result) {
    for (const Hanging& stiffener : hanging_stiffeners(piece))
        (stiffener.in_recess ? result.warnings : result.assumptions)
            .push_back(said("{} hangs {} below the rim.", stiffener.name, amount(stiffener.by, Unit::mm)));
}

void warn_of_lifting(const Response& response, Result& result) {
    for (const SituationResponse& s : response.situations)
        for (const SupportForce& force : s.supports)
            if (force.lifts)
                result.warnings.push_back(said("Under \"{}\" the top lifts off {}.", s.name, force.support));
}

void warn_of_tipping(const Response& response, Result& result) {
    for (const SituationResponse& s : response.situations) {
        if (s.set_down >= 1) continue;
        if (s.judged_for != LoadFor::everyday && s.tipping_factor && *s.tipping_factor > 1)
            continue; // between the outermost tile's force and its edge
        const Message share = said("{} %", number(100 * s.set_down));
        result.warnings.push_back(s.judged_for == LoadFor::strength
                                      ? said("Under \"{}\" the top tips at {} of the load: its strength is "
                                             "judged at that, for the load "
                                             "cannot press harder.",
                                             s.name, share)
                                      : said("Under \"{}\" the top tips at {} of the load; the numbers of "
                                             "this situation are those at that "
                                             "share.",
                                             s.name, share));
    }
}

void fill_second_answers(const Piece& piece, const Model& model, const std::vector<SolvedSituation>& solved,
                         int threads, Result& result) {
    std::vector<SituationPlan> plans;
    plans.reserve(solved.size());
    for (const SolvedSituation& s : solved) plans.push_back(s.plan);
    const int n_before =
        static_cast<int>(model.loads.size() - piece.loads.size()); // the top's own weight, where it counts
    result.by_hand = estimates_by_hand(piece, plans, n_before, result);
    warn_of_disagreement(result);
    const int nearest = nearest_to_its_limit(result);
    if (nearest < 0 || (piece.recesses.empty() && piece.stiffeners.empty())) return;
    if (!piece.top.sheet.empty()) return; // sheets come in few thicknesses
    const auto s = static_cast<size_t>(nearest);
    result.solid_equal = solid_equal(piece, plans[s], n_before, result.situations[s].sag_mm, threads);
    result.pays = pays_words(piece, result);
}

} // namespace hollowtop
