// SPDX-License-Identifier: MIT
#include "solver/checks/checks.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/sheet.hpp"
#include "solver/capacity/bar_wood.hpp"
#include "solver/capacity/limits.hpp"
#include "solver/capacity/screw_strength.hpp"
#include "solver/checks/judges.hpp"
#include "solver/shell/shell.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <string>
#include <tuple>
#include <utility>

namespace hollowtop {
namespace {

// clang-format off
constexpr auto checks = std::to_array<Check>({
    {"sag at once", "greatest downward movement under the load", "limits.sag: a share of the span or of the overhang, or a length",
     "long tops, sheet-thin skins",
     "EN 1995-1-1 Table 7.2 for the default share, from memory; the use where one is stated", judge_sag, JudgedOn::movement},
    {"sag after the years", "greatest downward movement under the standing loads after the years", "limits.sag_years",
     "books and stone that stay",
     "EN 1995-1-1 2.3.2.2 and Table 7.2, from memory; the use where one is stated", judge_sag_years, JudgedOn::movement},
    {"flatness", "greatest distance of the show face from a straightedge of 600 mm, along or across the grain, under the standing loads", "limits.flatness",
     "thin tops and skins under a load that stays",
     "common practice: 1 mm; Architectural Woodwork Standards 2009, 4.4.16.3, for sheet tops; the use where one is stated", judge_flatness, JudgedOn::movement},
    {"flatness after the years", "the same after the years", "limits.flatness_years",
     "thin tops and skins under a load that stays",
     "a judgement: twice that of a new top; the use where one is stated", judge_flatness_years, JudgedOn::movement},
    {"dish", "greatest sinking of a recess skin against the rim around it", "half the skin; under what stays limits.dish, where stated",
     "wide recesses with a very thin skin",
     "half the skin: Timoshenko and Woinowsky-Krieger 1959, art. 13, from memory", judge_dish, JudgedOn::reach},
    {"bending along the grain", "greatest face stress along the grain, mean over a square as wide as the thickness",
     "bending strength", "long spans along the grain",
     "Wood Handbook tables 5-3a, 5-5a, 5-6 with ASTM D245, or EN 338 with EN 1995-1-1 2.4.1", judge_bending_along},
    {"bending across the grain", "tension across the grain over the whole top as a weakest link sees it (Weibull), or the greatest face stress of compression",
     "tension across the grain with its volume, or compression", "the thin skin's usual end",
     "Weibull 1939; Barrett 1974; Wood Handbook tables 5-3a, 5-5a, 5-6 with ASTM D245, or EN 338 with EN 1995-1-1 6.4.3", judge_bending_across},
    {"bending of the sheet", "greatest bending stress of a plywood, MDF or particleboard top, mean over a square as wide as the thickness",
     "bending strength of the sheet, along and across its face grain", "thin sheets over long spans",
     "EN 622-5, EN 312, Handbook of Finnish Plywood 2002 or Wood Handbook table 12-1, with k_mod of EN 1995-1-1 table 3.1", judge_sheet_bending},
    {"shear through the thickness", "1.5 x shear force / thickness, along the grain", "shear strength along the grain",
     "heavy loads near a support",
     "Wood Handbook tables 5-3a, 5-5a, 5-6 with ASTM D245, or EN 338; 1.5: Timoshenko, Strength of Materials Part I, 1955", judge_shear_through},
    {"rolling shear", "1.5 x shear force / thickness, across the grain", "rolling shear strength",
     "a load on the skin near a long wall",
     "0.18 of the shear strength along the grain, Wood Handbook ch. 5, from memory, or EN 1995-1-1 6.1.7, from memory", judge_rolling_shear},
    {"shear in the plane", "greatest shear in the plane at a face", "shear strength along the grain",
     "a corner that hangs free",
     "Wood Handbook tables 5-3a, 5-5a, 5-6 with ASTM D245, or EN 338 with EN 1995-1-1 2.4.1", judge_shear_in_plane},
    {"stresses together", "the three face stresses at one place (Norris)", "1", "corners of a recess",
     "Norris, FPL Report 1816, 1950, reaffirmed 1962 (so cited in FPL-GTR-190, chapter 9); the formula from memory", judge_combined},
    {"stress at the wall", "face stress at the root of a recess wall, from its solved cross-section, mean over one skin thickness",
     "bending strength; tension or compression across the grain", "deep recesses, small cutters",
     "the wall's cross-section in plane strain (docs/walls.md); strengths as in bending", judge_wall_stress},
    {"splitting at the wall", "root of the energy that a crack level with the skin's underside releases (Gustafsson 1988) over the fracture energy",
     "1; the fracture energy is estimated from the wood's density", "deep recesses near the middle of the span",
     "Gustafsson 1988; Larsen and Gustafsson, CIB-W18 23-19-2, 1990, from memory", judge_splitting},
    {"skin buckling", "twice the load, on a strength class the design load, over the load that buckles a skin, where that bears less than three loads", "1", "very thin wide skins on long spans",
     "Timoshenko and Gere, Theory of Elastic Stability, 1961", judge_skin_buckling},
    {"bearing at the supports", "mean pressure over what presses on the underside, at most 30 mm deep from its edge", "compression across the grain at the proportional limit",
     "small pads, soft woods",
     "Wood Handbook tables 5-3a, 5-5a with ASTM D245, or EN 338", judge_bearing, JudgedOn::strength, true},
    {"bearing under loads", "mean pressure under a load, at most 30 mm deep from its edge", "compression across the grain at the proportional limit",
     "vices, clamps, narrow feet of heavy things",
     "as bearing at the supports", judge_load_bearing, JudgedOn::strength, true},
    {"stiffener stress", "greatest stress of bending and axial force in a stiffener",
     "yield / 1.67, on a strength class / gamma_M; less for a slender leg or a tall bar with screws far apart; a wooden bar's bending strength",
     "thin sections, long spans",
     "EN 1993-1-1 3.2.6 and tables 3.1, 5.2; AISC 360-16 F1 (1.67) and eq. F11-4, from memory; wood as bending along the grain", judge_stiffener_stress},
    {"stiffener shear", "1.5 x cross force / section of a wooden stiffener", "shear strength along the grain of its wood",
     "short stout wooden bars",
     "as shear through the thickness", judge_stiffener_shear},
    {"glue line", "shear of a glued bar on the wood, the mean over a stretch as long as the bar is high",
     "shear strength along the grain, rolling shear where grains cross, of the weaker wood", "short wide bars across the grain",
     "as shear through the thickness and rolling shear", judge_glue_line},
    {"bearing under stiffeners", "greatest pressure of a stiffener on the wood", "compression across the grain at the proportional limit",
     "narrow sections that end early",
     "as bearing at the supports", judge_stiffener_bearing, JudgedOn::strength, true},
    {"screws in shear", "greatest shear force of a screw", "the Wood Handbook's, for the load's duration; on a strength class EN 1995-1-1 8.2",
     "few screws, the outermost first",
     "Wood Handbook eq. 8-13 / 1.33, from memory; EN 1995-1-1 8.2", judge_screw_shear},
    {"screws pulled out", "greatest withdrawal force of a screw", "the Wood Handbook's, for the load's duration; on a strength class EN 1995-1-1 8.7",
     "short screws",
     "a fifth of Wood Handbook eq. 8-10; EN 1995-1-1 8.7", judge_screw_withdrawal},
    {"screws in both", "root of the sum of squares of both shares", "1", "short thin screws",
     "EN 1995-1-1 eq. 8.28", judge_screw_both},
    {"screws too close", "needed over given distance of a screw from the next, from an edge, from a wall", "1", "screws near an end or in a cluster",
     "EN 1995-1-1 tables 8.2, 8.4, 8.6, from memory", judge_screw_spacing},
    {"thread of the screws", "4 diameters", "threaded length in the wood", "thick screws in a thin skin",
     "handbooks of wood construction, from memory", judge_screw_thread, JudgedOn::reach},
    {"wood at the screws", "12 mm", "wood that a screw goes into", "a very thin skin",
     "common practice", judge_screw_wood, JudgedOn::reach},
    {"points of the screws", "3 mm of wood", "wood left over the point of a screw", "a thin skin",
     "common practice", judge_screw_point, JudgedOn::reach},
    {"tipping", "how many times the passing load has to stand", "the multiple of it at which a top that only lies on its supports tips off them", "light tops, legs far in",
     "statics; handbook: 1.5 for loads of every day (judgement), 1 for tests; strength class: EN 1990 table A1.2(A), from memory", judge_tipping, JudgedOn::tipping},
    {"uplift at what is held down", "force with which a support holds the top down", "what is stated for it, or its screws pulled out of the wood", "overhangs, few clips",
     "supports[].hold_down; as screws pulled out", judge_uplift, JudgedOn::uplift},
    {"room in the recess", "height or width that a thing kept in a recess needs, with what the skin sinks after the years",
     "what cover, stiffeners, screw heads and the dry season leave of the recess", "leaves and trays cut too close",
     "geometry; clearances: common practice; movement: Wood Handbook ch. 13", judge_room, JudgedOn::movement},
    {"cover", "sag of a cover under its own weight; movement of the top at its outermost screws",
     "a two-hundredth of what it bridges; the play of the holes", "thin wide covers, covers screwed fast across the grain",
     "judgement; play of holes: common practice; movement: Wood Handbook ch. 13", judge_cover, JudgedOn::top},
    {"push on the skin", "sinking of a recess skin under a thumb or a sanding pad, at its weakest place (advice)",
     "0.2 mm and 0.1 mm", "thin wide skins", "estimates of the trade (materials/data/pushes.csv)", judge_push_dish, JudgedOn::top},
    {"feels springy", "sinking of a recess skin under a hand that leans with 300 N, at its weakest place (advice)", "the skin's clear width / 400",
     "wide skins", "a judgement (materials/data/pushes.csv)", judge_springy, JudgedOn::top},
    {"heel on the skin", "share of the strength that a narrow heel takes at a skin's weakest place (advice)", "1", "thin skins",
     "strengths as in bending and shear; the heel: materials/data/pushes.csv", judge_push_strength, JudgedOn::top},
    {"first bounce", "the frequency wished for", "the top's lowest frequency", "long light tops",
     "limits.frequency; 8 Hz as advice: EN 1995-1-1 7.3.3, from memory", judge_bounce, JudgedOn::top},
});
// clang-format on

constexpr double greatest_margin = 999; ///< stands for "no demand at all"

/// Is the row a check of the wood's own stresses?
bool is_stress(const Check& check) {
    return check.judge == judge_bending_along || check.judge == judge_bending_across ||
           check.judge == judge_shear_through || check.judge == judge_rolling_shear ||
           check.judge == judge_shear_in_plane || check.judge == judge_combined ||
           check.judge == judge_wall_stress || check.judge == judge_splitting;
}

void weigh(CheckResult& row) {
    if (!std::isfinite(row.demand) || !std::isfinite(row.capacity))
        throw Error(ErrorKind::not_computable,
                    Fault{row.check, "the number of this check in \"" + row.situation + "\" is not finite",
                          "please report the piece"});
    if (!(row.demand > 0)) {
        row.utilisation = 0;
        row.margin = greatest_margin;
    } else if (row.capacity > 0) {
        row.utilisation = row.demand / row.capacity;
        row.margin = std::min(greatest_margin, row.capacity / row.demand - 1);
    } else {
        row.utilisation = greatest_margin;
        row.margin = -1;
    }
}

bool dishes_too_far(const SituationResponse& situation) {
    return situation.judged_for != LoadFor::stability && situation.dish_mm && situation.dish_skin_mm > 0 &&
           *situation.dish_mm > situation.dish_skin_mm / 2;
}

/// Does the row's place lie in a skin as thin as the one that dishes too far?
bool lies_in_the_dish(const SituationResponse& situation, const CheckResult& row) {
    if (!row.at || !situation.stress.at) return true;
    const StressSample* const there = situation.stress.at(*row.at);
    return !there || there->thickness <= 1.05 * situation.dish_skin_mm;
}

void fill_limits(const Piece& piece, const Response& response, Result& result) {
    for (std::size_t i = 0; i < std::min(response.situations.size(), result.situations.size()); ++i) {
        if (response.situations[i].judged_for != LoadFor::everyday || response.situations[i].set_down < 1)
            continue; // its sag is told
        const SagLimit limit = sag_limit(piece, response.situations[i]);
        result.situations[i].sag_limit_mm = limit.limit_mm;
        result.situations[i].span_mm = limit.span_mm;
        result.situations[i].overhang_governs = limit.overhang_governs;
        if (const auto flat = flatness_limit(piece.limits, response.situations[i].stage);
            flat && result.situations[i].flatness_mm)
            result.situations[i].flatness_limit_mm = flat->limit_mm;
    }
}

/// A rule of geometry that is kept is kept, however exactly: it governs only where it is broken, or where
/// nothing else is judged.
void find_governing(Result& result, bool rests_on_large_dish) {
    const CheckResult* governing = nullptr;
    bool is_kept_rule = false; // the one that governs so far
    for (const CheckResult& row : result.checks) {
        if (row.advice) continue;
        const bool is_kept = is_of_geometry(row.check) && row.utilisation <= 1;
        if (governing && (is_kept && !is_kept_rule)) continue;
        if (governing && is_kept == is_kept_rule && row.utilisation <= governing->utilisation) continue;
        governing = &row;
        is_kept_rule = is_kept;
    }
    result.passes = governing && governing->utilisation <= 1 && !rests_on_large_dish;
    if (!governing) return;
    result.governing_check = governing->check;
    result.governing_situation = governing->situation;
    result.governing_utilisation = governing->utilisation;
}

void warn_of_sheet(const Piece& piece, Result& result) {
    const std::string name = materials::find_sheet(piece.top.sheet).name;
    if (!piece.recesses.empty()) {
        result.warnings.push_back(name + " with a recess: its faces are denser and stronger than its middle, "
                                         "and a recess cuts one of them away. What is left is "
                                         "weaker and softer than the table says, by how much is not known: "
                                         "stresses are not judged, sag and dish are told too low.");
        return;
    }
    result.warnings.push_back(
        "Of " + name +
        " only sag and bending are judged. Not judged, as no strength is known: shear through the thickness "
        "and between its layers, "
        "splitting, pressure of supports and stiffeners on it, and the hold of screws in it.");
}

} // namespace

std::span<const Check> table_of_checks() { return checks; }

bool is_of_geometry(std::string_view name) {
    return std::any_of(checks.begin(), checks.end(), [&](const Check& check) {
        return check.name == name && (check.judge == judge_screw_thread || check.judge == judge_screw_wood ||
                                      check.judge == judge_screw_point ||
                                      check.judge == judge_screw_spacing || check.judge == judge_room);
    });
}

bool applies(const Check& check, const SituationResponse& situation) {
    const bool is_everyday = situation.judged_for == LoadFor::everyday;
    // a load that tips the top off fails by that, and of what less would do nothing is said
    if (is_everyday && situation.set_down < 1 && situation.design_of < 0)
        return check.judged == JudgedOn::tipping || check.judged == JudgedOn::top;
    switch (check.judged) {
    case JudgedOn::strength:
    case JudgedOn::reach:
        return situation.judged_for != LoadFor::stability;
    case JudgedOn::movement:
        return is_everyday;
    default:
        return true;
    }
}

namespace {

/// What is kept from check to check.
struct Judging {
    const Piece& piece;
    const Response& response;
    bool briefly;
    PlaneStiffness plane;
    ScrewUses screw_uses;
    KeptAllowables& kept;
    std::map<std::pair<Duration, materials::Against>, std::optional<materials::AllowableStresses>> known{};

    Judging(const Piece& p, const Response& r, bool b, KeptAllowables& k)
        : piece(p), response(r), briefly(b), plane(plane_of(p)), screw_uses(p), kept(k) {}

    std::optional<CheckResult> row(const Check& check, const SituationResponse& situation) {
        const auto [allowables, is_new] =
            known.try_emplace({situation.duration, against(situation.judged_for)});
        if (is_new) allowables->second = kept.of(piece, situation.duration, situation.judged_for);
        std::optional<CheckResult> found = check.judge({.piece = piece,
                                                        .response = response,
                                                        .situation = situation,
                                                        .plane = plane,
                                                        .allowables = allowables->second,
                                                        .briefly = briefly,
                                                        .screw_uses = &screw_uses});
        if (!found) return found;
        found->check = check.name;
        if (found->situation.empty()) found->situation = situation.name;
        if (check.is_told_of_tests && situation.judged_for == LoadFor::strength) found->advice = true;
        weigh(*found);
        return found;
    }

    /// Of all design situations of one, the row that uses most; beside it the demand of the loads as they
    /// are.
    std::optional<CheckResult> worst_design(const Check& check, size_t of) {
        std::optional<CheckResult> worst;
        for (const SituationResponse& design : response.designs) {
            if (design.design_of != static_cast<int>(of)) continue;
            std::optional<CheckResult> found = row(check, design);
            if (!found || (worst && !is_more(found->utilisation, worst->utilisation))) continue;
            worst = std::move(found);
            worst->factors = design.factors;
        }
        if (!worst || briefly) return worst;
        if (const auto plain = row(check, response.situations[of])) worst->demand_unfactored = plain->demand;
        worst->basis =
            said("design loads {}{}; {}", worst->factors,
                 worst->demand_unfactored ? said(" (with the loads as they are {})",
                                                 amount(*worst->demand_unfactored, unit_of(worst->unit)))
                                          : Message(),
                 worst->basis);
        return worst;
    }
};

} // namespace

void judge(const Piece& piece, const Response& response, Result& result, bool briefly, KeptAllowables* kept,
           const std::function<void()>& before_the_top) {
    fill_limits(piece, response, result);
    result.checks.clear();
    KeptAllowables own;
    Judging judging(piece, response, briefly, kept ? *kept : own);
    bool dishes = false;
    static_assert(std::is_partitioned(checks.begin(), checks.end(),
                                      [](const Check& check) { return check.judged != JudgedOn::top; }));
    bool is_complete = false; // the response
    for (const Check& check : checks) {
        if (check.judged == JudgedOn::top && !std::exchange(is_complete, true)) {
            if (before_the_top) before_the_top();
            result.pushes = response.pushes;
            for (SkinPush& push : result.pushes) fill_strength_used(piece, push);
        }
        for (std::size_t s = 0; s < response.situations.size(); ++s) {
            const SituationResponse& situation = response.situations[s];
            if (!applies(check, situation)) continue;
            const bool on_design = !response.designs.empty() &&
                                   (check.judged == JudgedOn::strength || check.judged == JudgedOn::uplift);
            std::optional<CheckResult> row =
                on_design ? judging.worst_design(check, s) : judging.row(check, situation);
            if (!row) continue;
            if (is_stress(check) && dishes_too_far(situation) && lies_in_the_dish(situation, *row)) {
                // What fails by the theory of small movements stays; a margin that rests on it is not given.
                if (row->utilisation <= 1) continue;
                row->remedy = said("the skin dishes by more than half its thickness, so this number is a "
                                   "rough one; first {}",
                                   row->remedy);
            }
            result.checks.push_back(std::move(*row));
        }
    }
    const SituationResponse* deepest = nullptr;
    int others = -1;
    for (const SituationResponse& situation : response.situations) {
        if (!dishes_too_far(situation)) continue;
        dishes = true;
        ++others;
        if (deepest == nullptr || *situation.dish_mm > *deepest->dish_mm) deepest = &situation;
    }
    if (deepest != nullptr)
        result.warnings.push_back(said("{}: the skin dishes by {}, more than half its {}{}; the theory of "
                                       "small movements no longer holds "
                                       "there, and no margin of a stress in that recess is given",
                                       deepest->name, amount(*deepest->dish_mm, Unit::mm),
                                       amount(deepest->dish_skin_mm, Unit::mm),
                                       others > 1    ? said(", as in {} other situations", others)
                                       : others == 1 ? Message(", as in another situation")
                                                     : Message()));
    for (Message& told : told_of_uplift(piece, response)) result.warnings.push_back(std::move(told));
    for (const TippedPosition& place : response.tipped) {
        CheckResult row = tipped_row(piece, place);
        row.check = "tipping";
        weigh(row);
        result.checks.push_back(std::move(row));
    }
    const bool no_strength = std::any_of(judging.known.begin(), judging.known.end(),
                                         [](const auto& entry) { return !entry.second; });
    if (!piece.top.sheet.empty())
        warn_of_sheet(piece, result);
    else if (no_strength)
        result.warnings.push_back("the top is given by its elastic constants alone: no strength is known, "
                                  "and only movements are judged");
    for (Message& sentence : not_judged_of_bars(piece, response))
        result.warnings.push_back(std::move(sentence));
    find_governing(result, dishes);
}

} // namespace hollowtop
