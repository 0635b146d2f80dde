// SPDX-License-Identifier: MIT
#include "solver/situations/situations.hpp"

#include "materials/digits.hpp"
#include "solver/piece/wording.hpp"
#include "solver/section/top_material.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace hollowtop {
namespace {

// EN 1990:2002 table A1.2(B) and A1.1, from memory
constexpr double gamma_G = 1.35, gamma_G_least = 1.0, gamma_Q = 1.5, psi_0_stored = 1.0, psi_0 = 0.7;

const LoadColumn& load_of(const Model& model, int load) { return model.loads[static_cast<size_t>(load)]; }
bool is_permanent(const Model& model, int load) {
    return load_of(model, load).duration == Duration::permanent;
}
double psi_of(Duration duration) { return duration == Duration::long_term ? psi_0_stored : psi_0; }

std::vector<ActingLoad> once(const std::vector<int>& loads) {
    std::vector<ActingLoad> acting;
    for (const int load : loads) acting.push_back({.load = load, .factor = 1});
    return acting;
}

Message named(const Model& model, const std::vector<int>& loads) {
    std::vector<Message> names;
    for (const int load : loads) names.push_back(load_of(model, load).name);
    return joined(std::move(names), ", ", " and ");
}

/// What stays, what is medium and of every day, and what is shorter.
struct Sorted {
    std::vector<int> standing, passing, medium, shorter;
    Duration longest = Duration::permanent;
    bool has_stability = false;
    explicit Sorted(const Model& model) {
        for (int k = 0; k < static_cast<int>(model.loads.size()); ++k) {
            const LoadColumn& load = load_of(model, k);
            if (load.duration == Duration::long_term) longest = Duration::long_term;
            has_stability = has_stability || load.judged_for == LoadFor::stability;
            (stays(load.duration) ? standing : passing).push_back(k);
            if (stays(load.duration)) continue;
            if (load.duration != Duration::medium)
                shorter.push_back(k);
            else if (load.judged_for == LoadFor::everyday)
                medium.push_back(k);
        }
    }
};

std::vector<SituationPlan> as_they_are(const Piece& piece, const Model& model) {
    std::vector<SituationPlan> plans;
    const Sorted sorted(model);
    const double k_def = creep_of(piece).value;
    const auto add = [&](Message name, Duration duration, Stage stage, const std::vector<int>& loads,
                         int passing, double creep_factor) {
        SituationPlan& plan = plans.emplace_back(SituationPlan{.name = std::move(name),
                                                               .duration = duration,
                                                               .stage = stage,
                                                               .loads = once(loads),
                                                               .passing = passing,
                                                               .creep_factor = creep_factor});
        if (passing >= 0) plan.judged_for = load_of(model, passing).judged_for;
        plan.format = piece.allowables.basis;
        plan.counts_for_tipping = plan.judged_for != LoadFor::strength || !sorted.has_stability;
    };
    const auto with_standing = [&](const std::vector<int>& more) {
        std::vector<int> loads = sorted.standing;
        loads.insert(loads.end(), more.begin(), more.end());
        return loads;
    };
    if (!sorted.standing.empty()) {
        add("standing loads", sorted.longest, Stage::at_once, sorted.standing, -1, 1);
        add("standing loads after the years", sorted.longest, Stage::years, sorted.standing, -1, 1 + k_def);
    }
    for (const int load : sorted.passing)
        add(load_of(model, load).name, load_of(model, load).duration, Stage::passing, with_standing({load}),
            load, 1);
    if (sorted.medium.size() > 1)
        add(said("{} together", named(model, sorted.medium)), Duration::medium, Stage::passing,
            with_standing(sorted.medium), -1, 1);
    if (sorted.medium.empty()) return plans;
    for (const int load : sorted.shorter) {
        if (load_of(model, load).judged_for == LoadFor::stability) continue; // on a bare top
        std::vector<int> loads = sorted.medium;
        loads.push_back(load);
        add(said("{}, with {}", load_of(model, load).name, named(model, sorted.medium)),
            load_of(model, load).duration, Stage::passing, with_standing(loads), load, 1);
    }
    return plans;
}

/// Does the load lie so far past the supports that it may lift the top on their other side?
bool lies_past(const Model& model, const std::vector<Point>& hull, int load) {
    constexpr double worth_it = 0.3; // of its force
    double past = 0, whole = 0;
    for (const LoadPoint& point : load_of(model, load).points) {
        whole += point.force;
        if (!is_within(hull, point.at)) past += point.force;
    }
    return past > worth_it * whole;
}

/// The design situations of one situation.
void add_designs(const Model& model, const SituationPlan& plan, int of, bool may_lift,
                 std::vector<SituationPlan>& designs) {
    std::vector<int> changing;
    bool has_permanent = false;
    for (const ActingLoad& acting : plan.loads)
        if (is_permanent(model, acting.load))
            has_permanent = true;
        else
            changing.push_back(acting.load);
    const auto add = [&](int lead, double g, bool with_changing, Duration duration) {
        SituationPlan design = plan;
        design.design_of = of;
        design.slip = slip_in_design;
        design.duration = duration;
        design.loads.clear();
        std::string others;
        if (has_permanent) design.factors = materials::digits(g) + " G";
        const auto tell = [&](const std::string& what) {
            (design.factors.empty() ? design.factors : others) +=
                (design.factors.empty() ? "" : " + ") + what;
        };
        for (const ActingLoad& acting : plan.loads) {
            const LoadColumn& load = load_of(model, acting.load);
            if (is_permanent(model, acting.load)) {
                design.loads.push_back({.load = acting.load, .factor = g});
                continue;
            }
            if (!with_changing) continue;
            const bool is_test = load.judged_for != LoadFor::everyday;
            const double psi = is_test || acting.load == lead ? 1 : psi_of(load.duration),
                         gamma = is_test ? 1 : gamma_Q;
            design.loads.push_back({.load = acting.load, .factor = psi * gamma});
            tell((psi != 1 ? materials::digits(psi) + " x " : std::string()) + materials::digits(gamma) +
                 " " + load.plain_name);
        }
        design.factors += others;
        designs.push_back(std::move(design));
    };
    std::vector<double> permanent{gamma_G};
    if (may_lift && has_permanent && !changing.empty()) permanent.push_back(gamma_G_least);
    std::vector<int> lead_in_turn = changing;
    if (plan.judged_for != LoadFor::everyday && plan.passing >= 0) lead_in_turn = {plan.passing};
    if (lead_in_turn.empty()) lead_in_turn.push_back(-1);
    for (const double g : permanent)
        for (const int lead : lead_in_turn) add(lead, g, true, plan.duration);
    // what stays for good is weaker alone than with what is only stored
    if (plan.stage == Stage::at_once && has_permanent && !changing.empty())
        add(-1, gamma_G, false, Duration::permanent);
}

/// The outline's corners, arcs in chords.
std::vector<Point> points_of(const Loop& outline) {
    constexpr int chords = 24; // of an arc: a quarter circle of 1 m strays 0.5 mm, inwards
    std::vector<Point> points;
    for (const EdgePiece& piece : outline)
        for (int k = 0; k < (piece.is_arc ? chords : 1); ++k)
            points.push_back(point_on(piece, static_cast<double>(k) / chords));
    return points;
}

} // namespace

double design_factor(Duration duration, LoadFor judged_for, bool leads) {
    if (duration == Duration::permanent) return gamma_G;
    if (judged_for != LoadFor::everyday) return 1; // the force of a test is an extreme itself
    return gamma_Q * (leads ? 1 : psi_of(duration));
}

std::vector<SituationPlan> plan_situations(const Piece& piece, const Model& model) {
    std::vector<SituationPlan> plans = as_they_are(piece, model);
    if (piece.allowables.basis != AllowablesBasis::strength_class) return plans;
    const std::vector<Point> hull = convex_hull(resting_places(model));
    const bool is_held_down = !model.supports.all_one_sided;
    std::vector<SituationPlan> designs;
    for (size_t s = 0; s < plans.size(); ++s) {
        const bool may_lift =
            is_held_down ||
            std::any_of(plans[s].loads.begin(), plans[s].loads.end(), [&](const ActingLoad& acting) {
                return !is_permanent(model, acting.load) && lies_past(model, hull, acting.load);
            });
        add_designs(model, plans[s], static_cast<int>(s), may_lift, designs);
    }
    plans.insert(plans.end(), std::make_move_iterator(designs.begin()),
                 std::make_move_iterator(designs.end()));
    return plans;
}

bool leads(const Model& model, const SituationPlan& plan, int load) {
    if (plan.passing >= 0) return load == plan.passing;
    return plan.stage == Stage::passing ? !stays(load_of(model, load).duration) : !is_permanent(model, load);
}

double own_weight_in(const Model& model, const std::vector<ActingLoad>& loads) {
    for (const ActingLoad& acting : loads)
        if (load_of(model, acting.load).is_own_weight) return acting.factor;
    return 0;
}

std::vector<Point> resting_places(const Model& model) {
    std::vector<Point> places;
    const std::vector<Point> outline = points_of(model.shell.field.outline);
    for (const ContactPoint& tile : model.points) {
        if (tile.gap > 0) continue; // under a recess it touches nothing
        if (tile.half_along <= 0) {
            places.push_back(tile.at);
            continue;
        }
        std::vector<Point> corners;
        const Point middle{tile.at.x + tile.to_middle.x, tile.at.y + tile.to_middle.y};
        for (const auto& [s, t] : {std::pair{-1.0, -1.0}, {1.0, -1.0}, {1.0, 1.0}, {-1.0, 1.0}})
            corners.push_back(
                {middle.x + s * tile.half_along * tile.axis.x - t * tile.half_across * tile.axis.y,
                 middle.y + s * tile.half_along * tile.axis.y + t * tile.half_across * tile.axis.x});
        const std::vector<Point> under = clipped(outline, corners);
        places.insert(places.end(), under.begin(), under.end());
    }
    for (int r = 0; r < model.bars.n_rails; ++r) {
        const Beam& rail = model.bars.beams[static_cast<size_t>(r)];
        const double half = (rail.section.contact_y1 - rail.section.contact_y0) / 2;
        for (const double s : {-rail.length / 2, rail.length / 2})
            for (const double y : {-half, half}) places.push_back(rail.at(s, y));
    }
    return places;
}

Resultant resultant_of_loads(const Model& model, const std::vector<ActingLoad>& loads) {
    Resultant total;
    const auto add = [&](const Resultant& load, double factor) {
        total = {total.force + factor * load.force, total.x_moment + factor * load.x_moment,
                 total.y_moment + factor * load.y_moment};
    };
    for (const ActingLoad& acting : loads) add(load_of(model, acting.load).resultant, acting.factor);
    if (const double weight = own_weight_in(model, loads); weight != 0) add(weight_of_bars(model), weight);
    return total;
}

std::vector<TippingLoad> loads_that_tip(const Model& model, const SituationPlan& plan) {
    std::vector<TippingLoad> loads;
    for (const ActingLoad& acting : plan.loads) {
        const LoadColumn& load = load_of(model, acting.load);
        loads.push_back({.of = resultant_of_loads(model, {{.load = acting.load, .factor = 1}}),
                         .is_permanent = is_permanent(model, acting.load),
                         .leads = leads(model, plan, acting.load),
                         .psi_0 = psi_of(load.duration)});
    }
    return loads;
}

} // namespace hollowtop
