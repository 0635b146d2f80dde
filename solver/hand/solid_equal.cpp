// SPDX-License-Identifier: MIT
#include "solver/hand/solid_equal.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "solver/model/make_model.hpp"
#include "solver/model/model.hpp"
#include "solver/readout/gather.hpp"
#include "solver/situations/connected_situations.hpp"
#include "solver/situations/situations.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

struct Solved {
    double sag = 0, mass = 0;
};

using Guess = std::vector<std::vector<char>>; ///< what pressed before

Solved solve(Piece& solid, const SituationPlan& plan, double thickness, int threads, Guess& guess) {
    solid.top.thickness = thickness;
    const double largest = std::max(solid.top.length, solid.top.width) / 8;
    const Model model = make_model(
        solid,
        {.shell = {.size = {.largest = largest, .at_walls = largest, .at_edges = largest / 1.5, .growth = 1},
                   .order = 3},
         .threads = threads,
         .bonded = false});
    Solved solved;
    solved.mass = area_of(model.shell.field.outline) * thickness * model.shell.plane.density;
    std::vector<SituationPlan> plans = plan_situations(solid, model);
    std::erase_if(plans, [&](const SituationPlan& one) {
        return one.design_of >= 0 || one.stage != plan.stage || !(one.name == plan.name);
    });
    std::vector<ConnectedSituation> connected = connect_situations(model, std::move(plans), guess);
    guess = pressing_of(connected);
    for (const SolvedSituation& s : solve_connected(model, std::move(connected)))
        solved.sag = sag_of(model.shell, s, support_plane(model, s)).value;
    return solved;
}

} // namespace

SolidEqual solid_equal(const Piece& piece, const SituationPlan& plan, int n_before, double sag_mm,
                       int threads) {
    SolidEqual equal{
        .situation = plan.name, .sag_mm = sag_mm, .thickness_mm = {}, .mass_kg = {}, .why_not = {}};
    Piece solid = piece;
    solid.recesses.clear();
    solid.stiffeners.clear();
    solid.probes.clear();
    solid.loads.clear();
    for (const ActingLoad& acting : plan.loads)
        if (acting.load >= n_before)
            solid.loads.push_back(piece.loads[static_cast<std::size_t>(acting.load - n_before)]);
    constexpr int most_solves = 6;                                   // three or four are usual
    constexpr double close_mm = 0.05, thinnest = 0.02, thickest = 5; // shares of the piece's thickness
    double h = piece.top.thickness, last_h = 0, last_sag = 0,
           power = 2.8; // bending alone 3; weight and shear take from it
    Guess guess;
    try {
        for (int i = 0; i < most_solves; ++i) {
            const Solved now = solve(solid, plan, h, threads, guess);
            if (!(now.sag > 0)) break;
            if (i > 0 && std::abs(h - last_h) > 1e-6) {
                const double seen = -std::log(now.sag / last_sag) / std::log(h / last_h);
                if (seen > 0.5 && seen < 5) power = seen;
            }
            const double next = h * std::pow(now.sag / sag_mm, 1 / power);
            if (!(next > thinnest * piece.top.thickness) || !(next < thickest * piece.top.thickness)) break;
            if (std::abs(next - h) < close_mm) {
                equal.thickness_mm = next;
                equal.mass_kg = now.mass * next / h;
                return equal;
            }
            last_h = h;
            last_sag = now.sag;
            h = next;
        }
        equal.why_not = "no solid top was found that sags as little";
    } catch (const Error& error) {
        if (error.kind() == ErrorKind::input) throw;
        equal.why_not = "the solid top could not be computed";
    }
    return equal;
}

Message pays_words(const Piece& piece, const Result& result) {
    if (piece.recesses.empty() || !result.solid_equal) return {};
    const SolidEqual& solid = *result.solid_equal;
    if (!solid.thickness_mm) return said("Whether hollowing pays is not known: {}.", solid.why_not);
    const Amounts thick = amount(*solid.thickness_mm, Unit::mm, decimals(1));
    if (!solid.mass_kg || !(*solid.mass_kg > 0))
        return said("As stiff as solid {}; no density is given, so which is the lighter is not known.",
                    thick);
    const double saved = *solid.mass_kg - result.mass.total_kg;
    if (std::abs(saved) < 0.05)
        return said("A solid top of {} is as stiff and weighs as much: hollow only for the look or the room.",
                    thick);
    if (saved < 0)
        return said("A solid top of {} is as stiff and {} lighter: hollow only for the look or the room.",
                    thick, amount(-saved, Unit::kg, decimals(1)));
    return said("As stiff as solid {}, {} lighter.", thick, amount(saved, Unit::kg, decimals(1)));
}

int nearest_to_its_limit(const Result& result) {
    int nearest = -1;
    double most = 0;
    for (std::size_t i = 0; i < result.situations.size(); ++i) {
        const SituationResult& s = result.situations[i];
        const double share = s.sag_limit_mm > 0 ? s.sag_mm / s.sag_limit_mm : 0;
        if (share > most) {
            most = share;
            nearest = static_cast<int>(i);
        }
    }
    return nearest;
}

} // namespace hollowtop
