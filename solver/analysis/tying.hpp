// SPDX-License-Identifier: MIT
#pragma once
/// \file  One way of tying top, supports and bars together, ready for many loads: the contact problem of a TieSet.

#include "solver/analysis/model.hpp"
#include "solver/interface/complementarity.hpp"

#include <span>
#include <vector>

namespace hollowtop {

/// What acts on top and bars.
struct TiedLoad {
    const std::vector<double>& forces; ///< nodal, on the top
    const std::vector<double>& moved;  ///< answer of the pinned top to them
    double weight = 0;                 ///< how many times the bars' own weight acts too
};

struct Tied {
    ContactAnswer answer;       ///< one entry a tie; rigid motions of the top first, then six a bar
    std::vector<double> forces; ///< nodal, of the ties on the top
};

class Tying {
  public:
    /// The first `n_ties` of the set and its first `n_bars` bars, on moduli reduced by `softening`, on screws that slip `slip` times as far.
    Tying(const Model& model, const TieSet& set, int n_ties, int n_bars, double softening, double slip = 1);
    Tied solve(const TiedLoad& load, std::span<const char> first_guess = {}) const;
    /// The ties' own answer alone. `at_columns`: the pinned top's movement along each of TopColumns::forces; `on_rigid`: work of the top's
    /// loads on each of Model::rigid.
    ContactAnswer answer_to(const std::vector<double>& at_columns, std::vector<double> on_rigid, double weight, std::span<const char> first_guess = {}) const;
    /// The same where the pinned top's movement along each of TopColumns::forces is known.
    Tied solve_from(const std::vector<double>& at_columns, const std::vector<double>& forces, double weight,
                    std::span<const char> first_guess = {}) const;
    double softening() const { return softening_; }
    double slip() const { return slip_; }

  private:
    const Model* model_;
    const TieSet* set_;
    size_t n_ties_;
    int n_bars_;
    double softening_, slip_;
    ContactSolver solver_;
};

/// Adds the nodal forces of ties on the top: `force`, one of each of the first ties of the set.
void add_tie_forces(const Model& model, const TieSet& set, std::span<const double> force, std::span<double> nodal);

/// How much a tie gives, mm/N, on moduli reduced by `softening`; a screw in shear `slip` times as much.
double compliance_of(const Tie& tie, double softening, double slip = 1);

} // namespace hollowtop
