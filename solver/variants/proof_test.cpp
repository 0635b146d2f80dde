// SPDX-License-Identifier: MIT
#include "solver/variants/proof_test.hpp"

#include "materials/digits.hpp"
#include "solver/piece/trace.hpp"
#include "solver/piece/wording.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

const SituationResult* find_situation(const Result& result, const Message& name) {
    const auto found = std::find_if(result.situations.begin(), result.situations.end(),
                                    [&](const auto& s) { return s.name == name; });
    return found == result.situations.end() ? nullptr : &*found;
}

const SituationResult* find_situation(const Result& result, Stage stage) {
    const auto found = std::find_if(result.situations.begin(), result.situations.end(),
                                    [&](const auto& s) { return s.stage == stage; });
    return found == result.situations.end() ? nullptr : &*found;
}

double share_of_limit(const SituationResult& s) {
    return s.sag_limit_mm > 0 ? s.sag_mm / s.sag_limit_mm : s.sag_mm;
}

/// The passing load whose situation uses most of its limit of sag; without one the load that stays and weighs
/// most.
const Load* hardest_load(const Piece& piece, const Result& result) {
    const Load* hardest = nullptr;
    double most = -1;
    for (const Load& load : piece.loads) {
        const SituationResult* situation = find_situation(result, name_of(load, piece.units));
        if (situation == nullptr || situation->stage != Stage::passing ||
            situation->judged_for != LoadFor::everyday || share_of_limit(*situation) <= most)
            continue;
        hardest = &load;
        most = share_of_limit(*situation);
    }
    if (hardest != nullptr) return hardest;
    for (const Load& load : piece.loads) {
        double force = 0;
        if (const auto* area = std::get_if<AreaLoad>(&load.kind))
            force = area->pressure *
                    (area->over ? (area->over->x1 - area->over->x0) * (area->over->y1 - area->over->y0)
                                : piece.top.length * piece.top.width);
        if (const auto* patch = std::get_if<PatchLoad>(&load.kind)) force = patch->force;
        if (const auto* line = std::get_if<LineLoad>(&load.kind)) force = line->force;
        if (const auto* clamp = std::get_if<ClampLoad>(&load.kind)) force = clamp->force;
        if (force > most) hardest = &load, most = force;
    }
    return hardest;
}

void scale_load(Load& load, double factor) {
    if (auto* area = std::get_if<AreaLoad>(&load.kind)) area->pressure *= factor;
    if (auto* patch = std::get_if<PatchLoad>(&load.kind)) patch->force *= factor;
    if (auto* line = std::get_if<LineLoad>(&load.kind)) line->force *= factor;
    if (auto* clamp = std::get_if<ClampLoad>(&load.kind)) clamp->force *= factor;
}

std::optional<Point> middle_of(const Load& load) {
    if (const auto* patch = std::get_if<PatchLoad>(&load.kind)) return patch->at;
    if (const auto* line = std::get_if<LineLoad>(&load.kind))
        return Point{(line->from.x + line->to.x) / 2, (line->from.y + line->to.y) / 2};
    if (const auto* clamp = std::get_if<ClampLoad>(&load.kind)) return clamp->at;
    return std::nullopt;
}

std::vector<ProofGauge> gauges_of(const Piece& piece, const Load& load, const Result& result) {
    constexpr double from_the_edge = 20,
                     apart = 60; // a dial's foot needs room; two gauges closer than this tell the same
    std::vector<ProofGauge> gauges;
    const Trace outline = trace_of(piece.top.outline);
    const auto add = [&](const Message& where, Point at) {
        constexpr std::size_t most = 3; // dials that a shop has
        if (gauges.size() == most || depth_inside(outline, at) < from_the_edge / 2) return;
        for (const ProofGauge& other : gauges)
            if (std::hypot(other.at.x - at.x, other.at.y - at.y) < apart) return;
        gauges.push_back({.where = where, .at = at});
    };
    if (const auto middle = middle_of(load)) add("under the load", *middle);
    if (const SituationResult* situation = find_situation(result, name_of(load, piece.units)))
        add("where it sags most", situation->sag_at);
    else if (const SituationResult* standing = find_situation(result, Stage::at_once))
        add("where it sags most", standing->sag_at);
    add("middle of the top", {piece.top.length / 2, piece.top.width / 2});
    add("middle of the front edge", {piece.top.length / 2, from_the_edge});
    add("middle of the back edge", {piece.top.length / 2, piece.top.width - from_the_edge});
    return gauges;
}

std::string step_name(double share) { return materials::digits(100 * share, 4) + " % of the load"; }

} // namespace

std::optional<ProofPlan> plan_proof_test(const Piece& placed, const Result& result) {
    const Load* hardest = hardest_load(placed, result);
    if (hardest == nullptr) return std::nullopt;
    ProofPlan plan{.test = ProofTest{.load = *hardest,
                                     .load_name = name_of(*hardest, placed.units),
                                     .gauges = gauges_of(placed, *hardest, result)},
                   .piece = placed};
    plan.piece.loads.clear();
    for (const double share : proof_shares) {
        Load step = *hardest;
        step.name = step_name(share);
        step.found_at.reset();
        step.duration = Duration::short_term;
        scale_load(step, share);
        plan.piece.loads.push_back(std::move(step));
    }
    plan.piece.probes.clear();
    for (const ProofGauge& gauge : plan.test.gauges) plan.piece.probes.push_back(gauge.at);
    return plan.test.gauges.empty() ? std::nullopt : std::optional(std::move(plan));
}

std::optional<std::vector<double>> readings_at(const ProofPlan& plan, const Result& result, double share) {
    const std::size_t n = plan.test.gauges.size();
    // before the load: the top under its own weight, or at rest where weights are left out
    const SituationResult* before = find_situation(result, Stage::at_once);
    const SituationResult* situation = find_situation(result, step_name(share));
    if (situation == nullptr || situation->probes.size() != n || (before && before->probes.size() != n))
        return std::nullopt;
    std::vector<double> readings;
    for (std::size_t g = 0; g < n; ++g)
        readings.push_back(situation->probes[g].w_mm - (before ? before->probes[g].w_mm : 0));
    return readings;
}

std::optional<ProofTest> read_proof_test(const ProofPlan& plan, const Result& result) {
    ProofTest test = plan.test;
    const SituationResult* before = find_situation(result, Stage::at_once);
    const double own_force = before ? before->applied_N : 0;
    for (const double share : proof_shares) {
        auto readings = readings_at(plan, result, share);
        if (!readings) return std::nullopt;
        ProofStep step{.share = share,
                       .force_N = find_situation(result, step_name(share))->applied_N - own_force,
                       .readings_mm = std::move(*readings)};
        if (share == 1) {
            test.force_N = step.force_N;
            if (!(step.force_N > 0)) return std::nullopt;
            constexpr double slope_force_N = 100;
            for (std::size_t g = 0; g < test.gauges.size(); ++g)
                test.gauges[g].slope_mm_per_100_N = step.readings_mm[g] * slope_force_N / step.force_N;
        }
        test.steps.push_back(std::move(step));
    }
    return test;
}

} // namespace hollowtop
