// SPDX-License-Identifier: MIT
#include "solver/variants/deepest.hpp"

#include "materials/error.hpp"
#include "solver/variants/edits.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

namespace hollowtop {
namespace {

[[noreturn]] void refuse(std::string what, std::string remedy) {
    throw Error(ErrorKind::input,
                {.place = "recesses", .what = std::move(what), .remedy = std::move(remedy)});
}

std::vector<const Recess*> named(const Piece& piece, const std::string& name) {
    std::vector<const Recess*> recesses;
    for (const Recess& recess : piece.recesses)
        if (name.empty() || recess.name == name) recesses.push_back(&recess);
    if (piece.recesses.empty()) refuse("there is none to be varied", R"(draw one in "recesses")");
    if (recesses.empty())
        refuse("none is called \"" + name + "\"", "give one of their names, or none for all of them");
    return recesses;
}

Rectangle box_of(const Recess& recess, const Top& top) {
    if (const auto box = straight_box_of(recess, top)) return *box;
    refuse("\"" + recess.name + "\" is a polygon, which has no one width",
           R"(draw it with "x" and "y", or with "rim")");
}

double rim_about(const Rectangle& box, const Top& top) {
    return std::min({box.x0, box.y0, top.length - box.x1, top.width - box.y1});
}

constexpr double grid = 0.1; // mm
constexpr int scan_places = 24;

Reach reach_from(double low, double high) {
    Reach reach{.low = low,
                .step = grid,
                .n_steps = static_cast<int>(std::floor((high - low) / grid + 1e-6)),
                .scan_every = 1};
    reach.scan_every = std::max(1, (reach.n_steps + scan_places - 1) / scan_places);
    return reach;
}

/// What is known at the places of the grid.
class Search {
  public:
    Search(const Reach& reach, const std::function<Piece(double)>& piece_of, const JudgeEachOptions& options,
           const std::function<void(double)>& told)
        : reach_(reach), piece_of_(piece_of), options_(options), told_(told) {}

    /// Full checks of the places that had none yet; false where it was stopped.
    bool confirm(const std::vector<int>& places, double share_to) {
        std::vector<int> open;
        for (const int k : places)
            if (const auto at = known_.find(k); at == known_.end() || !at->second.in_full) open.push_back(k);
        return judge(open, options_, true, share_to);
    }

    /// Judges the places that are not known yet on their first mesh, with the errors found there. Where these could turn
    /// the verdict the check is made in full. False where it was stopped.
    bool look(const std::vector<int>& places, double share_to) {
        std::vector<int> open, near;
        for (const int k : places)
            if (!known_.contains(k)) open.push_back(k);
        JudgeEachOptions unrefined = options_;
        unrefined.check.unrefined = true;
        if (!judge(open, unrefined, false, share_to)) return false;
        for (const int k : open) {
            const ReachPoint& point = known_.at(k);
            if (!point.row) continue;
            const double turns = (point.row->sag_error_percent + point.row->stress_error_percent) / 100;
            if (std::abs(point.row->utilisation - 1) < turns) near.push_back(k);
        }
        return confirm(near, share_to);
    }
    const std::map<int, ReachPoint>& known() const { return known_; }
    bool is_sure(int k) const {
        const auto at = known_.find(k);
        return at != known_.end() && at->second.in_full;
    }

  private:
    bool judge(const std::vector<int>& open, const JudgeEachOptions& options, bool in_full, double share_to) {
        const double share_from = share_;
        const auto judged = judge_each(
            open.size(), [&](std::size_t i) { return piece_of_(reach_.at(open[i])); }, options,
            [&](const Judged& one) {
                ReachPoint point{.measure = reach_.at(open[one.index]),
                                 .row = {},
                                 .problem = one.problem,
                                 .in_full = in_full};
                if (one.result) {
                    point.row = row_of(*one.piece, *one.result, {});
                    point.in_full = in_full || one.result->mesh.reached; // a check would have stopped there
                }
                known_.insert_or_assign(open[one.index], std::move(point));
                share_ = share_from + (share_to - share_from) * static_cast<double>(one.index + 1) /
                                          static_cast<double>(open.size());
                if (told_) told_(share_);
            });
        return judged == open.size();
    }

    const Reach& reach_;
    const std::function<Piece(double)>& piece_of_;
    const JudgeEachOptions& options_;
    const std::function<void(double)>& told_;
    std::map<int, ReachPoint> known_;
    double share_ = 0; ///< of the work, as told
};

std::vector<std::pair<double, double>> gaps_below(const std::map<int, ReachPoint>& known, double greatest) {
    std::vector<std::pair<double, double>> gaps;
    bool inside = false;
    for (const auto& [k, point] : known) {
        if (point.measure >= greatest) break;
        if (!point.row) continue; // no such piece: nothing is said of it
        if (!point.passes()) {
            if (!inside) gaps.emplace_back(point.measure, point.measure);
            gaps.back().second = point.measure;
        }
        inside = !point.passes();
    }
    return gaps;
}

} // namespace

Farthest farthest(const Reach& reach, const std::function<Piece(double)>& piece_of,
                  const JudgeEachOptions& options, const std::function<void(double)>& told) {
    Search search(reach, piece_of, options, told);
    Farthest answer;
    constexpr double scan_share = 0.7;     // of the work
    constexpr int wide_for_first_mesh = 4; ///< steps; closer in, every place is checked in full
    std::vector<int> scan;
    for (int k = 0; k < reach.n_steps; k += reach.scan_every) scan.push_back(k);
    scan.push_back(reach.n_steps);
    answer.stopped = !search.look(scan, scan_share);
    const auto& known = search.known();
    // the greatest that passes, and the least beyond it that is known to fail
    const auto bracket = [&] {
        std::pair<int, int> ends{-1, -1};
        for (const auto& [k, point] : known)
            if (point.passes())
                ends = {k, -1};
            else if (ends.second < 0)
                ends.second = k;
        return ends;
    };
    for (double share = scan_share; !answer.stopped;) {
        const auto [pass, fail] = bracket();
        share += (1 - share) / 3;
        if (pass < 0) { // none, unless a full check of the least knows better
            if (search.is_sure(scan.front())) break;
            answer.stopped = !search.confirm({scan.front()}, share);
            continue;
        }
        std::vector<int> ends{pass};
        if (fail >= 0) ends.push_back(fail);
        if (fail < 0 || fail == pass + 1) { // found, if full checks say so too
            if (std::all_of(ends.begin(), ends.end(), [&](int k) { return search.is_sure(k); })) break;
            answer.stopped = !search.confirm(ends, share);
            continue;
        }
        const int wide = fail - pass;
        std::vector<int> between;
        for (const int quarter : {1, 2, 3}) {
            const int k = pass + (wide * quarter + 2) / 4;
            if (k > pass && k < fail && (between.empty() || between.back() != k)) between.push_back(k);
        }
        answer.stopped =
            wide > wide_for_first_mesh ? !search.look(between, share) : !search.confirm(between, share);
    }
    for (const auto& [k, point] : known) answer.curve.push_back(point);
    const auto [pass, fail] = bracket();
    if (pass < 0) return answer;
    answer.passing = known.at(pass);
    if (fail >= 0) answer.failing = known.at(fail);
    answer.gaps = gaps_below(known, answer.passing->measure);
    return answer;
}

Reach reach_of_depth(const Piece& piece, const std::string& name, double least_skin) {
    double shallowest = 1; // mm
    for (const Recess* recess : named(piece, name))
        shallowest = std::max(shallowest, std::ceil(recess->root_radius)); // the cutter's corner must fit
    const double deepest = piece.top.thickness - least_skin;
    if (!(deepest > shallowest))
        refuse("a top this thin leaves no room for a recess above its least skin",
               "give a thicker top, or a lesser least skin");
    return reach_from(shallowest, deepest);
}

double rim_of(const Piece& piece, const std::string& name) {
    double rim = std::numeric_limits<double>::max();
    for (const Recess* recess : named(piece, name))
        rim = std::min(rim, rim_about(box_of(*recess, piece.top), piece.top));
    return rim;
}

Reach reach_of_width(const Piece& piece, const std::string& name, double least_rim) {
    constexpr double narrowest = 40; // mm, of a recess
    double low = -std::numeric_limits<double>::max();
    for (const Recess* recess : named(piece, name)) {
        const Rectangle box = box_of(*recess, piece.top);
        low = std::max(low, (narrowest - std::min(box.x1 - box.x0, box.y1 - box.y0)) / 2);
    }
    const double high = rim_of(piece, name) - least_rim;
    if (!(high > low))
        refuse("there is no room between the narrowest recess and the least rim", "give a lesser least rim");
    return reach_from(low, high);
}

} // namespace hollowtop
