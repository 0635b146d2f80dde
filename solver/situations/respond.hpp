// SPDX-License-Identifier: MIT
#pragma once
/// \file  Every situation of a piece solved on its model: which supports press, how the top moves, what each
/// support carries.
/// Which loads make a situation: situations.hpp.

#include "solver/model/model.hpp"
#include "solver/result/response.hpp"
#include "solver/shell/loads.hpp"
#include "solver/situations/connected_situations.hpp"

#include <span>
#include <string>
#include <vector>

namespace hollowtop {

struct SolvedSituation {
    SituationPlan plan;
    std::vector<double> dofs;        ///< movement of the reference surface, mm
    std::vector<double> point_force; ///< at Model::points, upward on the top, N
    std::vector<char> point_presses;
    std::vector<double> connection_force, connection_gap; ///< at Model::connections
    std::vector<char> connection_presses;
    std::vector<double> support_force; ///< one a support, upward, N
    Resultant applied;
    double equilibrium_error = 0;
    double residual =
        0; ///< work of the forces left unbalanced against the work of the loads; of many situations together where one product proves them
    std::optional<double> tipping_factor;         ///< of what passes, without what helps and may be away
    std::optional<double> tipping_factor_solid{}; ///< had the top not been hollowed
    std::optional<TippingReserve> tipping{};      ///< where it counts
};

/// Throws Error(not_computable) where no support forces balance what stays, naming the line about which the
/// top tips; or where residual or the last correction of the movements stays above 1e-5.
std::vector<SolvedSituation> solve_situations(const Piece& piece, const Model& model);
/// The same of some of its situations, whose connections are known.
std::vector<SolvedSituation> solve_connected(const Model& model, std::vector<ConnectedSituation> connected);

/// The last step, for whoever has many models to solve: connect_situations, connection_forces_of, Factor::solve
/// and add_moved_by_loads come before it. `answered`: one column of Factor::n_dofs() a situation; what is in it is
/// lost. `residual_of_many`: of a SumOfAnswers that these are in. Throws as solve_situations.
std::vector<SolvedSituation> finish_situations(const Model& model, std::vector<ConnectedSituation> connected,
                                               std::span<double> answered,
                                               std::optional<double> residual_of_many = std::nullopt);

/// What a situation's connections alone tell: all but movements, reactions and residual.
SolvedSituation unsolved(const Model& model, ConnectedSituation connected);

} // namespace hollowtop
