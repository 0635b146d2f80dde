// SPDX-License-Identifier: MIT
#include "solver/check/tried_positions.hpp"

#include "solver/checks/checks.hpp"
#include "solver/numeric/threads.hpp"
#include "solver/readout/gather_bars.hpp"
#include "solver/situations/travelling_load.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

constexpr size_t most_at_once = 32; // places solved together
constexpr size_t read_together = 8; // of those, whose stresses are read together
constexpr double nothing_borne = 1e-3, far_beyond = 999;

/// Rises off a support that carries nothing, mm.
double lift_off(const Model& model, const SolvedSituation& s) {
    std::vector<double> gap(model.supports.centres.size(), 1e300);
    for (size_t k = 0; k < model.points.size(); ++k) {
        double& least = gap[static_cast<size_t>(model.points[k].support)];
        least = std::min(least, s.point_presses[k] ? 0 : s.connection_gap[k] - model.points[k].gap);
    }
    double most = 0;
    for (const double g : gap)
        if (g < 1e299) most = std::max(most, g);
    return most;
}

/// Of each stiffener the screws that take most: in shear, pulled out, and in both.
std::vector<ScrewForce> hardest_worked(const std::vector<ScrewForce>& screws, size_t n_stiffeners) {
    std::vector<ScrewForce> hardest;
    for (size_t i = 0; i < n_stiffeners; ++i) {
        const auto take = [&](auto&& effort) {
            const ScrewForce* most = nullptr;
            for (const ScrewForce& screw : screws)
                if (static_cast<size_t>(screw.stiffener) == i &&
                    (most == nullptr || effort(screw) > effort(*most)))
                    most = &screw;
            if (most != nullptr) hardest.push_back(*most);
        };
        take([](const ScrewForce& s) { return s.shear_N / s.thread; }); // what holds less bears less
        take([](const ScrewForce& s) { return s.withdrawal_N / s.thread; });
        take([](const ScrewForce& s) { return std::hypot(s.shear_N, s.withdrawal_N) / s.thread; });
    }
    return hardest;
}

/// The greatest mean of the survey's own places: whether a place's wood is summed up is asked of those alone that
/// would be the greatest.
void seek_greatest_mean(const Shell& shell, const TensionPoints& points,
                        const std::vector<StressSample>& survey, TensionAcross& tension) {
    if (survey.empty() || !(tension.norm > 0)) return;
    tension.mean_at = survey.front().at;
    tension.mean = 0;
    for (const StressSample& sample : survey) {
        const double pulled = std::max(sample.top[1], sample.bottom[1]);
        if (!(pulled > tension.mean) || !points.holds(shell, sample.at)) continue;
        tension.mean_at = sample.at;
        tension.mean = pulled;
    }
}

std::vector<std::string> names_of_checks() {
    std::vector<std::string> names;
    for (const Check& check : table_of_checks()) names.emplace_back(check.name);
    names.emplace_back("lift-off");
    return names;
}

std::pair<long, long> key_of(Point p) { return {std::lround(p.x * 100), std::lround(p.y * 100)}; }

double use_of(double needed, double reached) {
    return reached > nothing_borne ? needed / reached : far_beyond;
}

} // namespace

TriedPositions::TriedPositions(std::shared_ptr<const CoarseTop> top, const Load& load, KeptAllowables& kept)
    : top_(std::move(top)), load_(load), allowables_(kept.of(top_->piece, load.duration, load.judged_for)),
      rows_(names_of_checks()),
      tipping_row_(static_cast<size_t>(std::find(rows_.begin(), rows_.end(), "tipping") - rows_.begin())) {}

double TriedPositions::needed() const {
    return tipping_format(piece().allowables.basis, load_.judged_for).needed;
}

PositionFactors TriedPositions::design_factors() const {
    return {.permanent = design_factor(Duration::permanent, LoadFor::everyday, false),
            .lasting = design_factor(Duration::long_term, LoadFor::everyday, false),
            .passing = design_factor(load_.duration, load_.judged_for, true),
            .slip = slip_in_design};
}

const TriedPosition* TriedPositions::find(Point place) const {
    const auto it = known_.find(key_of(place));
    return it == known_.end() ? nullptr : &tried_[it->second];
}

bool TriedPositions::is_even(size_t row) const {
    return std::all_of(tried_.begin(), tried_.end(), [&](const TriedPosition& t) {
        return t.tips || t.used[row] == tried_.front().used[row];
    });
}

const TriedPosition& TriedPositions::worst(size_t row) const {
    return *std::max_element(
        tried_.begin(), tried_.end(),
        [&](const TriedPosition& a, const TriedPosition& b) { return a.used[row] < b.used[row]; });
}

/// Judges the rows that this kind of situation is for.
void TriedPositions::judge(const SolvedSituation& solved, std::vector<StressSample> survey,
                           const TensionAcross& tension, std::vector<double>& used) const {
    const bool is_design = solved.plan.design_of >= 0;
    SituationResponse response =
        situation_response(piece(), *top_->model, solved,
                           is_design ? Movements{} : movements_of(*top_->model, solved, top_->dish),
                           top_->walls, std::move(survey), &top_->spans);
    response.tension_across = tension;
    seek_greatest_mean(top_->model->shell, top_->tension, response.stress.survey, *response.tension_across);
    gather_bars_of(piece(), *top_->model, solved, response);
    response.screws = hardest_worked(response.screws, piece().stiffeners.size());
    if (!counts_for_tipping()) response.tipping.reset();
    size_t row = 0;
    for (const Check& check : table_of_checks()) {
        const size_t here = row++;
        const bool wants_design =
            has_designs() && (check.judged == JudgedOn::strength || check.judged == JudgedOn::uplift);
        if (!applies(check, response) || wants_design != is_design || check.judged == JudgedOn::top) continue;
        const auto judgement = check.judge({.piece = piece(),
                                            .response = top_->base,
                                            .situation = response,
                                            .plane = top_->model->shell.plane,
                                            .allowables = allowables_,
                                            .briefly = true});
        const bool is_told = judgement && (judgement->advice ||
                                           (check.is_told_of_tests && load_.judged_for == LoadFor::strength));
        if (judgement && !is_told && judgement->demand > 0)
            used[here] =
                judgement->capacity > 0 ? std::min(judgement->demand / judgement->capacity, 999.0) : 999;
    }
    if (!is_design && load_.judged_for == LoadFor::everyday) used[row] = lift_off(*top_->model, solved);
}

void TriedPositions::add(const std::vector<Point>& places) {
    std::vector<Point> fresh;
    for (const Point p : places) {
        if (known_.count(key_of(p)) || !lies_on(field(), load_, p)) continue;
        known_.emplace(key_of(p), tried_.size() + fresh.size());
        fresh.push_back(p);
    }
    for (size_t from = 0; from < fresh.size(); from += most_at_once) {
        const auto some = std::span{fresh}.subspan(from, std::min(most_at_once, fresh.size() - from));
        std::vector<Load> placed;
        for (const Point p : some) placed.push_back(set_down(load_, p));
        if (only_tips())
            add_tipping(placed, some);
        else
            add_judged(placed, some);
    }
}

void TriedPositions::add_tipping(const std::vector<Load>& placed, std::span<const Point> places) {
    for (size_t k = 0; k < placed.size(); ++k) {
        TriedPosition& t =
            tried_.emplace_back(TriedPosition{.at = places[k], .used = std::vector<double>(rows_.size(), 0)});
        if (const auto reserve = top_->solver.reserve_of(placed[k]))
            t.used[tipping_row_] = use_of(reserve->needed, reserve->reached);
    }
}

void TriedPositions::add_judged(const std::vector<Load>& placed, std::span<const Point> places) {
    const std::vector<LoadPositionAnswer> answers = top_->solver.solve(placed);
    const std::vector<LoadPositionAnswer> designs =
        has_designs() ? top_->solver.solve(placed, design_factors()) : std::vector<LoadPositionAnswer>{};
    std::vector<TriedPosition> now(answers.size());
    for (size_t k = 0; k < now.size(); ++k) {
        now[k].at = places[k];
        now[k].used.assign(rows_.size(), 0);
    }
    const auto n_groups = static_cast<int>((answers.size() + read_together - 1) / read_together);
    share_out(n_groups, top_->threads, [&](int group, int) {
        const size_t first = static_cast<size_t>(group) * read_together,
                     count = std::min(read_together, answers.size() - first);
        judge_group(std::span{answers}.subspan(first, count),
                    designs.empty() ? std::span<const LoadPositionAnswer>{}
                                    : std::span{designs}.subspan(first, count),
                    std::span{now}.subspan(first, count));
    });
    tried_.insert(tried_.end(), now.begin(), now.end());
}

/// Reads the stresses of a few places together, then judges each; `designs` may be empty.
void TriedPositions::judge_group(std::span<const LoadPositionAnswer> answers,
                                 std::span<const LoadPositionAnswer> designs,
                                 std::span<TriedPosition> tried) const {
    const Shell& shell = top_->model->shell;
    std::vector<const SolvedSituation*> stands;
    for (size_t k = 0; k < answers.size(); ++k) {
        if (answers[k].solved) stands.push_back(&*answers[k].solved);
        if (!designs.empty() && answers[k].solved && designs[k].solved) stands.push_back(&*designs[k].solved);
    }
    std::vector<std::vector<StressSample>> surveys = stresses_in(shell, stands, top_->means);
    const std::vector<TensionAcross> tension = tension_across_in(shell, top_->tension, stands);
    auto survey = surveys.begin();
    auto sum = tension.begin();
    for (size_t k = 0; k < answers.size(); ++k) {
        TriedPosition& t = tried[k];
        if (answers[k].solved) {
            judge(*answers[k].solved, std::move(*survey++), *sum++, t.used);
            if (!designs.empty() && designs[k].solved)
                judge(*designs[k].solved, std::move(*survey++), *sum++, t.used);
        } else {
            t.tips = true;
            t.tips_at = answers[k].tipping ? answers[k].tipping->reached : answers[k].tips_at.value_or(0);
            t.used[tipping_row_] = use_of(needed(), t.tips_at);
        }
    }
}

} // namespace hollowtop
