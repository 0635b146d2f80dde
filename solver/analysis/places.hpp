// SPDX-License-Identifier: MIT
#pragma once
/// \file  One load set down here and there on one model, and what the top answers in each place.
///
/// By reciprocity (Betti 1872) the movement of the top at a place under a unit force at the interface is that at the interface
/// under a unit force at the place. One blocked solve for the interface's columns thus gives the influence of every place on
/// supports, screws and stiffeners; which of them press there is a small dense problem for each place, for a loose top rocks.
/// With their forces known, movements and stresses of many places come from one more blocked solve.
/// N, mm, MPa. On top of the load act the standing loads of the model, at once.

#include "solver/analysis/respond.hpp"
#include "solver/analysis/tipping.hpp"
#include "solver/analysis/tying.hpp"

#include <optional>
#include <span>
#include <vector>

namespace hollowtop {

/// What holds in one place.
struct PlaceAnswer {
    std::optional<SolvedSituation> solved; ///< none where the top tips
    std::optional<Tipping> tipping;        ///< where nothing holds the top down
};

class PlaceSolver {
  public:
    /// `model` holds the standing loads alone, and must outlive this.
    explicit PlaceSolver(const Model& model);

    /// One answer a load, in their order. Solved without refinement: right to some eight digits.
    std::vector<PlaceAnswer> solve(std::span<const Load> placed) const;

  private:
    const Model* model_;
    std::vector<int> standing_;
    bool with_weight_ = false;
    std::vector<double> standing_forces_, standing_at_columns_;
    std::vector<std::vector<double>> influence_; ///< movement of the whole top under a unit force along each column
    std::vector<Point> hull_;
    Resultant standing_resultant_;
    Tying tying_;
};

} // namespace hollowtop
