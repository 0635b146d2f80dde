// SPDX-License-Identifier: MIT
#pragma once
/// \file  How well the factor's answers solve the equations: the work that is left unbalanced, of many answers
/// at once where one product proves them, or of each after iterative refinement.

#include "solver/situations/connected_situations.hpp"

#include <span>
#include <vector>

namespace hollowtop {

/// Is one solve enough, and no reaction at held dofs asked for? Then one product, of the sum of many answers,
/// may prove them all.
bool is_proved_at_once(const Model& model);

/// The least work, and the least movement, that an answer is held against: that of the pinned top under the loads of the
/// situation alone, taken down to what rounding leaves of it. Where the loads stand on what carries them the top stays
/// as it is, and what is left of either is rounding.
struct LeastHeldAgainst {
    double work = 0, movement = 0;
};
LeastHeldAgainst least_held_against(const Model& model, std::span<const ActingLoad> loads);

/// Answers of many situations added up, of one piece or of several on one model.
class SumOfAnswers {
  public:
    /// `answered`: with what the loads do in it.
    void add(const Model& model, std::span<const ConnectedSituation> connected,
             std::span<const double> answered);
    /// Work of what is left unbalanced when all of them act together, against the work of the loads.
    double residual(const Model& model) const;

  private:
    std::vector<double> moved_{}, forces_{}; ///< forces: of the connections
    std::vector<double> times_{};            ///< that each load acts
};

/// Iterative refinement against the stiffness itself, where one solve is not enough or reactions are asked
/// for.
struct Refined {
    std::vector<double>
        rest; ///< what forces the movements do not answer; reactions at held dofs; a column a situation
    std::vector<double> error; ///< of each situation's movements, as a share of the greatest
};

/// `dofs` are the movements on the reduced moduli, one column of Factor::n_dofs() a situation, mm, and come back
/// refined: u <- u - c K^-1 (K u / c - loads - connections), c the creep factor, until the last correction is
/// under 1e-8 of the greatest movement or no longer halves.
Refined refine(const Model& model, std::span<const ConnectedSituation> connected, std::span<double> dofs);

} // namespace hollowtop
