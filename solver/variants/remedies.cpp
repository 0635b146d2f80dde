// SPDX-License-Identifier: MIT
#include "solver/variants/remedies.hpp"

#include "materials/error.hpp"
#include "solver/check/kept_work.hpp"
#include "solver/numeric/threads.hpp"
#include "solver/piece/sense.hpp"
#include "solver/variants/levers.hpp"

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

using Used = std::vector<std::pair<std::string, double>>; ///< of each check that can fail the piece

struct Verdict {
    bool passes = false;
    double utilisation = 0, mass_kg = 0;
    std::string governing_check;
    Used used;
};

Used used_of(const Result& result) {
    Used used;
    for (const CheckResult& row : result.checks) {
        if (row.advice) continue;
        const auto known = std::find_if(used.begin(), used.end(),
                                        [&](const auto& entry) { return entry.first == row.check; });
        if (known == used.end())
            used.emplace_back(row.check, row.utilisation);
        else
            known->second = std::max(known->second, row.utilisation);
    }
    return used;
}

double used_by(const Used& used, const std::string& check) {
    for (const auto& [name, utilisation] : used)
        if (name == check) return utilisation;
    return 0;
}

/// Each check uses so many times as much as it seemed.
void scale(Verdict& verdict, const Used& times) {
    verdict.utilisation = 0;
    for (auto& [check, used] : verdict.used) {
        if (const double by = used_by(times, check); by > 0) used *= by;
        if (used > verdict.utilisation) {
            verdict.utilisation = used;
            verdict.governing_check = check;
        }
    }
    verdict.passes = verdict.utilisation <= 1;
}

/// So many cells along the top, and none refined beyond.
MeshReport mesh_of(const Piece& piece, double cells) {
    MeshReport mesh;
    mesh.size_mm = std::max(piece.top.length, piece.top.width) / cells;
    return mesh;
}
constexpr double cells_of_search = 10, ///< it says what to try
    cells_of_check = 14;               ///< those with which every check begins

/// Are all its edges and walls lines of the mesh, so that the mesh of the check is right to less than `spare`?
bool is_straight(const Piece& piece) {
    return std::holds_alternative<RectangleShape>(piece.top.outline) &&
           std::none_of(piece.recesses.begin(), piece.recesses.end(), [](const Recess& recess) {
               return std::holds_alternative<PolygonShape>(recess.shape);
           });
}
constexpr double spare = 0.03;

class Judge {
  public:
    /// `failing` is what the check of `asked` came to. Throws nothing: a quick check that fails teaches nothing.
    Judge(const Piece& asked, const CheckOutcome& failing, CheckOptions options)
        : asked_(asked), resting_(failing.placed), mesh_(mesh_of(asked, cells_of_search)),
          options_(std::move(options)), is_straight_(is_straight(asked) && !options_.mesh_size),
          refined_(failing.result.mesh) {
        options_.threads = 1;
        options_.essentials = options_.no_advice = true;
        options_.want_fields = false;
        options_.progress = {};
        compare_with(used_of(failing.result));
    }

    /// Every check on the mesh of the search, the loads at rest where they were worst for the piece as drawn; each
    /// check uses so much more or less as the check of the piece as drawn said more or less than the quick one.
    std::optional<Verdict> quick(const Lever& lever, int k, KeptWork& kept) const {
        CheckOptions options = options_;
        options.mesh_of_another = mesh_;
        options.rough = true;
        options.kept = &kept;
        auto verdict = of(resting_, lever, k, options);
        const bool is_solid =
            lever.change.kind == "solid"; // what walls and skins taught does not speak of it
        if (verdict && !is_solid) scale(*verdict, more_in_full_);
        return left_over(std::move(verdict));
    }
    /// The changed piece by itself, every load that travels sought anew. Where all lines are straight the first
    /// mesh of a check does; else what passes there is checked on the mesh that the piece as drawn was refined to.
    /// Something must be left for the error.
    std::optional<Verdict> full(const Lever& lever, int k, int threads) const {
        CheckOptions options = options_;
        options.threads = threads;
        options.mesh_of_another = mesh_of(asked_, cells_of_check);
        Piece placed;
        auto verdict = left_over(of(asked_, lever, k, options, &placed));
        if (is_straight_ || !verdict || !verdict->passes) return verdict;
        options.mesh_of_another = refined_;
        return left_over(of_piece(placed, options)); // its loads that travel are where they do most harm
    }
    /// The top as drawn, without its recesses, as `quick` judges.
    std::optional<Verdict> solid() const {
        CheckOptions options = options_;
        options.mesh_of_another = mesh_;
        options.rough = true;
        return of_piece(solid_of(resting_), options);
    }

    /// Passes only where enough is left for the error of the mesh.
    std::optional<Verdict> left_over(std::optional<Verdict> verdict) const {
        if (verdict && verdict->utilisation > 1 - spare) verdict->passes = false;
        return verdict;
    }

  private:
    void compare_with(const Used& drawn) {
        CheckOptions options = options_;
        options.mesh_of_another = mesh_;
        options.rough = true;
        const auto verdict = of_piece(resting_, options);
        if (!verdict) return;
        constexpr double most = 2; // beyond, the two do not speak of one thing
        for (const auto& [check, used] : verdict->used)
            if (const double in_full = used_by(drawn, check); used > 0 && in_full > 0)
                more_in_full_.emplace_back(check, std::clamp(in_full / used, 1 / most, most));
    }
    /// `placed` becomes the piece as it was computed.
    static std::optional<Verdict> of_piece(const Piece& piece, const CheckOptions& options,
                                           Piece* placed = nullptr) {
        try {
            if (!faults_of(piece).empty()) return std::nullopt;
            CheckOutcome outcome = check_piece(piece, options);
            const Result& result = outcome.result;
            if (placed != nullptr) *placed = std::move(outcome.placed);
            return Verdict{result.passes, result.governing_utilisation, result.mass.total_kg,
                           result.governing_check, used_of(result)};
        } catch (const Error&) { // it tips, or cannot be made so
            return std::nullopt;
        }
    }
    static std::optional<Verdict> of(Piece piece, const Lever& lever, int k, const CheckOptions& options,
                                     Piece* placed = nullptr) {
        try {
            lever.step(piece, k);
        } catch (const Error&) { // it cannot be made so
            return std::nullopt;
        }
        return of_piece(piece, options, placed);
    }

    const Piece& asked_;
    const Piece& resting_;
    MeshReport mesh_;
    CheckOptions options_;
    bool is_straight_;
    MeshReport refined_;  ///< the mesh on which the piece as drawn was checked
    Used more_in_full_{}; ///< of each check, how many times as much the full one said of the piece as drawn
};

/// The search along one lever.
class Climb {
  public:
    /// `drawn` is the utilisation of the piece as drawn; of models at most so many bytes are kept.
    Climb(const Lever& lever, const Judge& judge, double drawn, std::size_t kept_bytes)
        : lever_(&lever), judge_(&judge), drawn_(drawn),
          kept_(lever.changes_stiffeners_alone ? kept_bytes : 0), change_(lever.change) {}

    /// Does its farthest step pass, or, where steps do not rise, any of them?
    bool reaches() { return (found_ = first_that_passes(0)) > 0; }
    /// Back to the least step that passes, and a full check of it. Where that says more, for its own mesh or for
    /// loads that are worse elsewhere, every step is held to as much more, and the search goes on.
    void bring_back(int threads) {
        constexpr int most_rounds = 4;
        int low = 0;
        for (int round = 0; round < most_rounds && found_ > 0; ++round) {
            if (lever_->rises) found_ = least_that_passes(low, found_);
            const auto verdict = judge_->full(*lever_, found_, threads);
            if (verdict) {
                end_at(found_, *verdict, verdict->passes);
                if (verdict->passes) return;
                learn(*verdict, found_);
            }
            low = found_;
            found_ = first_that_passes(low);
        }
    }
    const Remedy& change() const { return change_; }
    const Lever& lever() const { return *lever_; }
    /// What came nearest: its step, 0 where no piece so changed can be computed, and what it uses.
    int nearest_step() const { return nearest_step_; }
    const Used& used_at_nearest() const { return used_at_nearest_; }

  private:
    /// Beyond `low`; of steps that rise the farthest. 0: none.
    int first_that_passes(int low) {
        if (lever_->rises) return lever_->n_steps > low && passes(lever_->n_steps) ? lever_->n_steps : 0;
        for (int k = low + 1; k <= lever_->n_steps; ++k)
            if (passes(k)) return k;
        return 0;
    }
    /// Utilisation falls about as a power of what is changed: where its logarithm meets zero is the next place to
    /// look; halving, in turn with that, ends the search whatever it does. `low` does not pass, `high` does.
    int least_that_passes(int low, int high) {
        double above = std::log(std::max(low > 0 ? used_at(low) : drawn_, 1.001)),
               below = std::log(std::clamp(used_at(high), 0.01, 0.999));
        for (bool halve = false; high - low > 1; halve = !halve) {
            const double share = halve ? 0.5 : above / (above - below);
            const int k =
                std::clamp(low + static_cast<int>(std::ceil(share * (high - low))), low + 1, high - 1);
            if (passes(k)) {
                high = k;
                below = std::log(std::clamp(used_at(k), 0.01, 0.999));
            } else {
                low = k;
                above = std::log(std::max(used_at(k), 1.001));
            }
        }
        return high;
    }
    void end_at(int k, const Verdict& verdict, bool helps) {
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
    std::optional<Verdict> seen(int k) {
        const auto [entry, is_new] = seen_.try_emplace(k);
        if (is_new) entry->second = judge_->quick(*lever_, k, kept_);
        std::optional<Verdict> verdict = entry->second;
        if (verdict && !taught_.empty()) {
            const bool passed = verdict->passes;
            scale(*verdict, taught_);
            verdict = judge_->left_over(std::move(verdict));
            verdict->passes = verdict->passes && passed;
        }
        return verdict;
    }
    void learn(const Verdict& full, int k) {
        const std::optional<Verdict>& quick = seen_[k];
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
    const Judge* judge_;
    double drawn_;
    KeptWork kept_;
    Remedy change_;
    int found_ = 0;
    double nearest_ = 0;
    int nearest_step_ = 0;
    Used used_at_nearest_;
    std::map<int, std::optional<Verdict>> seen_; ///< what quick checks said, a step
    Used taught_;                                ///< of each check, how many times as much a full one said
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

std::vector<Pair> pairs_of(const std::vector<Climb>& climbs, const Used& drawn) {
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
    Search(const Judge& judge, double drawn, int threads, std::size_t n_levers, std::function<void()> tell)
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
    const Judge* judge_;
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
    const Used drawn = used_of(failing.result);
    std::vector<std::string> fails;
    for (const auto& [check, used] : drawn)
        if (used > 1) fails.push_back(check);
    const std::vector<Lever> levers = levers_of(piece, fails);
    const int threads = threads_for(options.threads);
    const Judge judge(piece, failing, options);
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
        if (solid && solid->utilisation > 1 + spare)
            found.solid_too = {solid->governing_check, solid->utilisation};
    });
    found.changes = search.bring_back(wanted);
    std::vector<Climb> climbs = std::move(search.climbs);
    const auto helping = std::count_if(found.changes.begin(), found.changes.end(),
                                       [](const Remedy& change) { return change.helps; });
    if (helping < 2) {
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
