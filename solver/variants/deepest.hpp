// SPDX-License-Identifier: MIT
#pragma once
/// \file  How far may one measure of a piece be taken: the greatest depth of its recesses, or their greatest
/// extent, that meets the limits.
///
/// Margins need not fall evenly (a deeper top is lighter too): the whole range is scanned, then the last step
/// from meeting to missing is divided by four again and again, until both sides lie one grid step apart.
/// Places are looked at on the first mesh of a check, with the errors found there, which is a full check where these are
/// small enough; in full what comes so near to the limit that the error could turn it, and at last the two sides of the
/// answer, until full checks say the same of both.

#include "materials/message.hpp"
#include "solver/variants/judge_each.hpp"
#include "solver/variants/row.hpp"

#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace hollowtop {

/// A measure at grid places `low` + k `step`, k = 0 .. n_steps.
struct Reach {
    double low = 0, step = 0.1; ///< mm
    int n_steps = 0;
    int scan_every = 10; ///< steps between two places of the scan
    double at(int k) const { return low + step * k; }
};

struct ReachPoint {
    double measure = 0; ///< mm
    std::optional<StudyRow> row;
    Message problem;      ///< why there is no row
    bool in_full = false; ///< seen by a full check; else on its first mesh alone
    bool passes() const { return row && row->passes; }
};

struct Farthest {
    std::optional<ReachPoint> passing; ///< the greatest measure that meets the limits; absent where none does
    std::optional<ReachPoint> failing; ///< one step further; absent where the greatest measure of all passes
    std::vector<ReachPoint> curve;     ///< all that was looked at, rising
    /// Lesser measures that do not meet the limits although the greatest does: from .. to, as far as the scan
    /// saw.
    std::vector<std::pair<double, double>> gaps;
    bool stopped = false; ///< the search was stopped before its end
};

/// `told` is called with the share that is done, now and then.
Farthest farthest(const Reach& reach, const std::function<Piece(double)>& piece_of,
                  const JudgeEachOptions& options, const std::function<void(double)>& told = {});

/// Depths of the recess called so (of all where `name` is empty) that leave at least `least_skin`.
/// Throws Error(input) where there is no such recess, or no room.
Reach reach_of_depth(const Piece& piece, const std::string& name, double least_skin);

/// How far every wall of the recess can move outwards (inwards below 0) and leave a rim of at least
/// `least_rim` to the rectangle about the outline. Throws Error(input), for a polygon too.
Reach reach_of_width(const Piece& piece, const std::string& name, double least_rim);

/// The least rim that recesses leave to the rectangle about the outline.
double rim_of(const Piece& piece, const std::string& name);

} // namespace hollowtop
