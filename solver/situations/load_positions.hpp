// SPDX-License-Identifier: MIT
#pragma once
/// \file  One load set down here and there on one model, and what the top answers in each place.
///
/// By reciprocity (Betti 1872) the movement of the top at a place under a unit force at the interface is that
/// at the interface under a unit force at the place. One blocked solve for the interface's columns thus gives
/// the influence of every place on supports, screws and stiffeners; which of them press there is a small
/// dense problem for each place, for a loose top rocks.
/// With their forces known, movements and stresses of many places come from one more blocked solve.
/// N, mm, MPa. On top of the load act the standing loads of the model, at once.

#include "solver/model/contact_system.hpp"
#include "solver/situations/respond.hpp"
#include "solver/situations/tipping.hpp"

#include <optional>
#include <span>
#include <vector>

namespace hollowtop {

/// What holds in one place.
struct LoadPositionAnswer {
    std::optional<SolvedSituation>
        solved; ///< none where a load of every day tips the top; of others, what does not quite
    std::optional<double> tips_at;         ///< share of the load, where the top tips
    std::optional<TippingReserve> tipping; ///< where nothing holds the top down
};

/// How many times loads act, and how far screws slip: once, or in a design situation.
struct PositionFactors {
    double permanent = 1, lasting = 1, passing = 1, slip = 1;
};

class LoadPositionSolver {
  public:
    /// `model` holds the standing loads alone, and must outlive this.
    explicit LoadPositionSolver(const Model& model, AllowablesBasis basis = AllowablesBasis::handbook);

    /// One answer a load, in their order. Solved without refinement: right to some eight digits.
    /// In a design situation a load of every day that tips the top is answered like others.
    std::vector<LoadPositionAnswer> solve(std::span<const Load> placed,
                                          const PositionFactors& factors = {}) const;
    /// Tipping alone: what each load has, of what it needs.
    std::optional<TippingReserve> reserve_of(const Load& placed) const;
    /// Does nothing hold the top down?
    bool is_loose() const { return model_->supports.all_one_sided; }

  private:
    std::optional<TippingReserve> reserve_of(const Resultant& passing, LoadFor judged_for,
                                             const TippingFormat& format) const;

    const Model* model_;
    AllowablesBasis basis_;
    size_t n_columns_;
    std::vector<double>
        influence_; ///< of each degree of freedom, its movement under a unit force along each column
    std::vector<std::vector<double>> at_columns_; ///< movement along each column under each standing load
    std::vector<Point> hull_;                     ///< of the supports' outer edges
    std::vector<TippingLoad> standing_;
    ContactSystem contact_system_;
    std::optional<ContactSystem> design_system_; ///< where the basis asks for it
};

} // namespace hollowtop
