// SPDX-License-Identifier: MIT
#pragma once
/// \file  One load set down in many places of a coarse top; in each every row of the table of checks is judged,
/// and how far a support is left. Each place is tried once.

#include "solver/capacity/allowables.hpp"
#include "solver/check/coarse_top.hpp"

#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

namespace hollowtop {

struct TriedPosition {
    Point at{};
    std::vector<double> used{}; ///< utilisation of each row of the table of checks, then lift-off, mm
    bool tips = false;
    double tips_at = 0; ///< share of the load
};

class TriedPositions {
  public:
    /// Throws as allowables_of.
    TriedPositions(std::shared_ptr<const CoarseTop> top, const Load& load, KeptAllowables& kept);

    /// Of these the ones on the top that were not tried before, many at once.
    void add(const std::vector<Point>& places);
    const TriedPosition* find(Point place) const;
    const std::vector<TriedPosition>& all() const { return tried_; }
    const TriedPosition& worst(size_t row) const;
    /// The same wherever the load lies: not the load's doing.
    bool is_even(size_t row) const;

    const Piece& piece() const { return top_->piece; }
    const ThicknessField& field() const { return top_->model->shell.field; }
    const Load& load() const { return load_; }
    const std::vector<std::string>& rows() const { return rows_; } ///< names of checks, then "lift-off"
    size_t tipping_row() const { return tipping_row_; }
    size_t lift_row() const { return rows_.size() - 1; }
    /// How many times the load must be borne before the top tips.
    double needed() const;

  private:
    bool counts_for_tipping() const { return load_.judged_for != LoadFor::strength || !top_->has_stability; }
    /// A load for stability on a top that nothing holds down: no stress is asked for.
    bool only_tips() const { return load_.judged_for == LoadFor::stability && top_->solver.is_loose(); }
    bool has_designs() const { return piece().allowables.basis == AllowablesBasis::strength_class; }
    PositionFactors design_factors() const;
    void judge(const SolvedSituation& solved, std::vector<StressSample> survey, const TensionAcross& tension,
               std::vector<double>& used) const;
    void add_tipping(const std::vector<Load>& placed, std::span<const Point> places);
    void add_judged(const std::vector<Load>& placed, std::span<const Point> places);
    void judge_group(std::span<const LoadPositionAnswer> answers, std::span<const LoadPositionAnswer> designs,
                     std::span<TriedPosition> tried) const;

    std::shared_ptr<const CoarseTop> top_;
    Load load_;
    std::optional<materials::AllowableStresses> allowables_;
    std::vector<std::string> rows_;
    size_t tipping_row_ = 0;
    std::map<std::pair<long, long>, size_t> known_{}; ///< by hundredths of a millimetre
    std::vector<TriedPosition> tried_{};
};

} // namespace hollowtop
