// SPDX-License-Identifier: MIT
#pragma once
/// \file  Top, supports and bars held together by a ConnectionSet: one contact system, ready for many loads.
/// The contact problem it poses: solver/numeric/complementarity.hpp; docs/method.md, "What holds the top".

#include "solver/model/model.hpp"
#include "solver/numeric/complementarity.hpp"

#include <span>
#include <vector>

namespace hollowtop {

/// What acts on top and bars.
struct ContactLoad {
    const std::vector<double>& forces; ///< nodal, on the top
    const std::vector<double>& moved;  ///< answer of the pinned top to them
    double weight = 0;                 ///< how many times the bars' own weight acts too
};

struct ContactState {
    ContactAnswer answer;       ///< one entry a connection; rigid motions of the top first, then six a bar
    std::vector<double> forces; ///< nodal, of the connections on the top
};

class ContactSystem {
  public:
    /// The first `n_connections` of the set and its first `n_bars` bars, wood as soft as `creep_factor` makes it
    /// (1 + k_def after the years, else 1), on screws that slip `slip` times as far.
    ContactSystem(const Model& model, const ConnectionSet& set, int n_connections, int n_bars,
                  double creep_factor, double slip = 1);
    ContactState solve(const ContactLoad& load, std::span<const char> first_guess = {}) const;
    /// The connections' own answer alone. `at_columns`: the pinned top's movement along each of
    /// TopColumns::forces; `on_rigid`: work of the top's loads on each of Model::rigid.
    ContactAnswer answer_to(const std::vector<double>& at_columns, std::vector<double> on_rigid,
                            double weight, std::span<const char> first_guess = {}) const;
    /// The same where the pinned top's movement along each of TopColumns::forces is known.
    ContactState solve_from(const std::vector<double>& at_columns, const std::vector<double>& forces,
                            double weight, std::span<const char> first_guess = {}) const;
    double creep_factor() const { return creep_factor_; }
    double slip() const { return slip_; }

  private:
    const Model* model_;
    const ConnectionSet* set_;
    size_t n_connections_;
    int n_bars_;
    double creep_factor_, slip_;
    ContactSolver solver_;
};

/// Adds the nodal forces of connections on the top: `force`, one of each of the first connections of the set.
void add_connection_forces(const Model& model, const ConnectionSet& set, std::span<const double> force,
                           std::span<double> nodal);

/// Compliance of a connection, mm/N, at that creep factor; of a screw in shear `slip` times as much.
double compliance_of(const Connection& connection, double creep_factor, double slip = 1);

} // namespace hollowtop
