// SPDX-License-Identifier: MIT
#include "solver/variants/remedies.hpp"

#include "solver/check/kept_work.hpp"
#include "solver/numeric/threads.hpp"
#include "solver/variants/levers.hpp"
#include "solver/variants/remedy_judge.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <iterator>
#include <map>
#include <mutex>
#include <string_view>
#include <utility>

namespace hollowtop {
namespace {

/// The search along one lever.
class Climb {
  public:
    /// `drawn` is the utilisation of the piece as drawn; of models at most so many bytes are kept.
    Climb(const Lever& lever, const RemedyJudge& judge, double drawn, std::size_t kept_bytes)
        : lever_(&lever), judge_(&judge), drawn_(drawn),
          kept_(lever.changes_stiffeners_alone ? kept_bytes : 0), change_(lever.change) {}

    /// Does its farthest step pass, or, where steps do not rise, any of them?
    bool reaches() { return (found_ = first_that_passes(0)) > 0; }
    /// Back to the least step that passes, and a full check of it. Where that says more, for its own mesh or for
    /// loads that are worse elsewhere, every step is held to as much more, and the search goes on, as far as full
    /// checks fall towards the limit.
    void bring_back(int threads) {
        constexpr int most_rounds = 3;
        int low = 0;
        std::optional<std::pair<int, double>> before; // a step, and what a full check said
        for (int round = 0; round < most_rounds && found_ > 0; ++round) {
            if (lever_->rises) found_ = least_that_passes(low, found_);
            const auto verdict = judge_->full(*lever_, found_, threads);
            low = found_;
            if (verdict) {
                end_at(found_, *verdict, verdict->passes);
                if (verdict->passes) return;
                learn(*verdict, found_);
                if (lever_->rises && before)
                    low = std::max(low, before_the_limit(*before, verdict->utilisation));
                before = {found_, verdict->utilisation};
            }
            found_ = first_that_passes(low);
        }
    }
    const Remedy& change() const { return change_; }
    const Lever& lever() const { return *lever_; }
    /// What came nearest: its step, 0 where no piece so changed can be computed, and what it uses.
    int nearest_step() const { return nearest_step_; }
    const UsedByCheck& used_at_nearest() const { return used_at_nearest_; }

  private:
    /// Beyond `low`; of steps that rise the farthest. 0: none.
    int first_that_passes(int low) {
        if (lever_->rises) return lever_->n_steps > low && passes(lever_->n_steps) ? lever_->n_steps : 0;
        for (int k = low + 1; k <= lever_->n_steps; ++k) {
            if (passes(k)) return k;
            if (lever_->most_apart > 0 && used_at(k) > lever_->most_apart) break;
        }
        return 0;
    }
    /// The last step that by two full checks, of an earlier step and of the one found, would not pass yet; as long as
    /// there are some beyond.
    int before_the_limit(std::pair<int, double> earlier, double now) const {
        const double fall = std::log(earlier.second / now) / (found_ - earlier.first);
        if (!(fall > 0)) return found_;
        const double more = std::log(now / (1 - spare_for_mesh)) / fall;
        return found_ + static_cast<int>(std::min(more, static_cast<double>(lever_->n_steps - 1 - found_)));
    }
    /// Of a lever that rises: the size that step k gives what is changed.
    double size_of(int k) const {
        Remedy told = lever_->change;
        lever_->tell(told, k);
        return told.to;
    }
    /// Utilisation falls about as a power of the size: where that power meets the limit is the next place to look;
    /// halving, every third time, ends the search whatever it does. `low` does not pass, `high` does.
    int least_that_passes(int low, int high) {
        constexpr double limit = 1 - spare_for_mesh, near = 1e-3;
        const bool is_solid = lever_->change.kind == "solid"; // its first step is no step from what is drawn
        for (int pass = 0; high - low > 1; ++pass) {
            const double above = std::log(std::max((low > 0 ? used_at(low) : drawn_) / limit, 1 + near));
            const double below = std::log(std::clamp(used_at(high) / limit, near, 1 - near));
            double share = above / (above - below); // of the way from low to high
            const double from = low > 0 ? size_of(low) : lever_->change.from, to = size_of(high);
            if (is_solid && low == 0) {
                constexpr double power = 2.5; // between that of stress and that of sag
                share = (to * std::exp(below / power) - size_of(0)) / (to - size_of(0));
            } else if (from > 0 && to > 0 && from != to) {
                share = (from * std::pow(to / from, share) - from) / (to - from);
            }
            if (pass % 3 == 2) share = 0.5;
            const int k =
                std::clamp(low + static_cast<int>(std::ceil(share * (high - low))), low + 1, high - 1);
            (passes(k) ? high : low) = k;
        }
        return high;
    }
    void end_at(int k, const RemedyVerdict& verdict, bool helps) {
        lever_->tell(change_, k);
        change_.helps = helps;
        change_.utilisation = verdict.utilisation;
        change_.mass_kg = verdict.mass_kg;
        change_.governing_check = verdict.governing_check;
    }
    /// The quick check of step k, held to what full checks have taught; what came nearest is kept.
    bool passes(int k) {
        const auto verdict = seen(k);
        if (!verdict) return false;
        if (nearest_ == 0 || (!verdict->passes && verdict->utilisation < nearest_) || verdict->passes) {
            nearest_ = verdict->utilisation;
            nearest_step_ = k;
            used_at_nearest_ = verdict->used;
            end_at(k, *verdict, false);
        }
        return verdict->passes;
    }
    double used_at(int k) {
        const auto verdict = seen(k);
        return verdict ? verdict->utilisation : 0;
    }
    std::optional<RemedyVerdict> seen(int k) {
        const auto [entry, is_new] = seen_.try_emplace(k);
        if (is_new) entry->second = judge_->quick(*lever_, k, kept_);
        std::optional<RemedyVerdict> verdict = entry->second;
        if (verdict && !taught_.empty()) {
            const bool passed = verdict->passes;
            scale(*verdict, taught_);
            verdict = judge_->left_over(std::move(verdict));
            verdict->passes = verdict->passes && passed;
        }
        return verdict;
    }
    void learn(const RemedyVerdict& full, int k) {
        const std::optional<RemedyVerdict>& quick = seen_[k];
        if (!quick) return;
        for (const auto& row : full.used) { // a binding could not be caught by a lambda in every compiler
            const double used = row.second, expected = used_by(quick->used, row.first);
            if (!(expected > 0) || used <= expected) continue;
            const auto known = std::find_if(taught_.begin(), taught_.end(),
                                            [&](const auto& e) { return e.first == row.first; });
            if (known == taught_.end())
                taught_.emplace_back(row.first, used / expected);
            else
                known->second = std::max(known->second, used / expected);
        }
    }

    const Lever* lever_;
    const RemedyJudge* judge_;
    double drawn_;
    KeptWork kept_;
    Remedy change_;
    int found_ = 0;
    double nearest_ = 0;
    int nearest_step_ = 0;
    UsedByCheck used_at_nearest_;
    std::map<int, std::optional<RemedyVerdict>> seen_; ///< what quick checks said, a step
    UsedByCheck taught_; ///< of each check, how many times as much a full one said
};

/// The least work first, then the lightest.
bool is_better(const Remedy& a, const Remedy& b) {
    if (a.helps != b.helps) return a.helps;
    if (!a.helps) return a.utilisation > 0 && (!(b.utilisation > 0) || a.utilisation < b.utilisation);
    return a.work != b.work ? a.work < b.work : a.mass_kg < b.mass_kg;
}

/// Two levers that may help together, and what each check then would use if each did its part.
struct Pair {
    Lever lever;
    double promise = 0;
};

std::vector<Pair> pairs_of(const std::vector<Climb>& climbs, const UsedByCheck& drawn) {
    std::vector<Pair> pairs;
    const auto promise = [&](const Climb& a, const Climb& b) {
        double worst = 0;
        for (const auto& [check, used] : drawn)
            if (used > 0)
                worst = std::max(worst, used_by(a.used_at_nearest(), check) *
                                            used_by(b.used_at_nearest(), check) / used);
        return worst;
    };
    for (size_t i = 0; i < climbs.size(); ++i)
        for (size_t j = i + 1; j < climbs.size(); ++j) {
            const Climb *a = &climbs[i], *b = &climbs[j];
            if (a->nearest_step() == 0 || b->nearest_step() == 0) continue;
            if (a->lever().rises && !b->lever().rises) std::swap(a, b); // the one that rises is brought back
            if (auto both = together(a->lever(), a->nearest_step(), b->lever()))
                pairs.push_back({std::move(*both), promise(*a, *b)});
        }
    constexpr double hopeless =
        1.5; // what two changes do together is seldom so much better than what they do apart
    std::erase_if(pairs, [](const Pair& pair) { return pair.promise > hopeless; });
    std::stable_sort(pairs.begin(), pairs.end(),
                     [](const Pair& a, const Pair& b) { return a.promise < b.promise; });
    return pairs;
}

/// The search over many levers, some at once.
class Search {
  public:
    Search(const RemedyJudge& judge, double drawn, int threads, std::size_t n_levers,
           std::function<void()> tell)
        : judge_(&judge), drawn_(drawn), threads_(threads),
          kept_bytes_(share_of_memory() / std::max<std::size_t>(1, n_levers)), tell_(std::move(tell)) {}

    /// Does the farthest step of each pass? `beside` is done with them.
    void try_all(const std::vector<const Lever*>& levers, const std::function<void()>& beside = {}) {
        climbs.clear();
        climbs.reserve(levers.size());
        for (const Lever* lever : levers) climbs.emplace_back(*lever, *judge_, drawn_, kept_bytes_);
        reaches_.assign(levers.size(), 0);
        const int n = static_cast<int>(levers.size());
        share_out(n + (beside ? 1 : 0), threads_, [&](int i, int) {
            if (i < n)
                reaches_[static_cast<size_t>(i)] = climbs[static_cast<size_t>(i)].reaches();
            else
                beside();
            tell_();
        });
    }
    /// Those that are the least work, brought back: so many at once, until one has met the limits in full.
    /// Those that were not wanted any more are left out of what is told.
    std::vector<Remedy> bring_back(size_t wanted) {
        std::vector<size_t> hopeful;
        for (size_t i = 0; i < climbs.size(); ++i)
            if (reaches_[i] != 0) hopeful.push_back(i);
        std::stable_sort(hopeful.begin(), hopeful.end(), [&](size_t a, size_t b) {
            return climbs[a].lever().change.work < climbs[b].lever().change.work;
        });
        std::vector<char> sought(climbs.size(), 1);
        for (size_t from = 0, helped = 0; from < hopeful.size(); from += wanted) {
            const size_t count = std::min(wanted, hopeful.size() - from);
            if (helped > 0) {
                for (size_t i = 0; i < count; ++i) sought[hopeful[from + i]] = 0;
                continue;
            }
            share_out(static_cast<int>(count), threads_, [&](int i, int) {
                climbs[hopeful[from + static_cast<size_t>(i)]].bring_back(
                    std::max(1, threads_ / static_cast<int>(count)));
                tell_();
            });
            for (size_t i = 0; i < count; ++i) helped += climbs[hopeful[from + i]].change().helps;
        }
        std::vector<Remedy> changes;
        for (size_t i = 0; i < climbs.size(); ++i)
            if (sought[i] != 0) changes.push_back(climbs[i].change());
        return changes;
    }

    std::vector<Climb> climbs;

  private:
    const RemedyJudge* judge_;
    double drawn_;
    int threads_;
    std::size_t kept_bytes_;
    std::function<void()> tell_;
    std::vector<char> reaches_;
};

bool is_usual(const Remedy& change) {
    static constexpr std::array<std::string_view, 5> unusual{"thickness", "supports_across", "section",
                                                             "wood", "loads"};
    return std::find(unusual.begin(), unusual.end(), change.kind) == unusual.end();
}

bool any_helps(const std::vector<Remedy>& changes) {
    return std::any_of(changes.begin(), changes.end(), [](const Remedy& change) { return change.helps; });
}

} // namespace

Remedies remedies_for(const Piece& piece, const CheckOutcome& failing, const CheckOptions& options) {
    constexpr int middling = 40'000,
                  large = 150'000; // degrees of freedom: a check takes a second, and several
    const int dofs = failing.result.mesh.dofs;
    const size_t wanted = dofs > large ? 1 : dofs > middling ? 2 : 3;
    const UsedByCheck drawn = used_of(failing.result);
    std::vector<std::string> fails;
    for (const auto& [check, used] : drawn)
        if (used > 1) fails.push_back(check);
    const std::vector<Lever> levers = levers_of(piece, fails);
    const int threads = threads_for(options.threads);
    const RemedyJudge judge(piece, failing, options);
    std::mutex telling;
    double done = 0;
    const double all = static_cast<double>(levers.size() + wanted) + 1;
    Search search(judge, failing.result.governing_utilisation, threads, levers.size(), [&] {
        const std::lock_guard lock(telling);
        done += 1;
        if (options.progress) options.progress(std::min(1.0, done / all));
    });
    Remedies found;
    // the usual ones first; what costs more, or is another table, where those are not enough
    std::vector<const Lever*> usual, unusual;
    for (const Lever& lever : levers) (is_usual(lever.change) ? usual : unusual).push_back(&lever);
    search.try_all(usual, [&] {
        if (piece.recesses.empty()) return;
        const auto solid = judge.solid();
        if (solid && solid->utilisation > 1 + spare_for_mesh)
            found.solid_too = {solid->governing_check, solid->utilisation};
    });
    found.changes = search.bring_back(wanted);
    std::vector<Climb> climbs = std::move(search.climbs);
    if (!any_helps(found.changes)) {
        search.try_all(unusual);
        for (Remedy& change : search.bring_back(1)) found.changes.push_back(std::move(change));
        std::move(search.climbs.begin(), search.climbs.end(), std::back_inserter(climbs));
    }
    if (!any_helps(found.changes)) {
        constexpr size_t most_pairs = 12, at_once = 4;
        const std::vector<Pair> pairs = pairs_of(climbs, drawn);
        for (size_t from = 0; from < std::min(most_pairs, pairs.size()) && !any_helps(found.changes);
             from += at_once) {
            std::vector<const Lever*> some;
            for (size_t i = from; i < std::min(from + at_once, pairs.size()); ++i)
                some.push_back(&pairs[i].lever);
            search.try_all(some);
            for (Remedy& change : search.bring_back(1))
                if (change.helps) found.changes.push_back(std::move(change));
        }
    }
    std::stable_sort(found.changes.begin(), found.changes.end(), is_better);
    return found;
}

} // namespace hollowtop
