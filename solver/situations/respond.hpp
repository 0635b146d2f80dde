// SPDX-License-Identifier: MIT
#pragma once
/// \file  Every situation of a piece solved on its model: which supports press, how the top moves, what each
/// support carries.
/// Which loads make a situation: situations.hpp.

#include "solver/model/model.hpp"
#include "solver/numeric/complementarity.hpp"
#include "solver/result/response.hpp"
#include "solver/shell/loads.hpp"
#include "solver/situations/situations.hpp"

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

/// What each connection carries in a situation.
struct ConnectedSituation {
    SituationPlan plan;
    ContactAnswer
        answer; ///< one entry a connection of Model::connections; rigid motions of the top first, then six a bar
};

/// Which connections press, a row a situation.
std::vector<std::vector<char>> pressing_of(std::span<const ConnectedSituation> connected);

/// Throws Error(not_computable) where no support forces balance what stays, naming the line about which the
/// top tips; or where residual or the last correction of the movements stays above 1e-5.
std::vector<SolvedSituation> solve_situations(const Piece& piece, const Model& model);

/// The same in steps, for whoever has many models to solve: what each connection carries, ...
/// (`guess`: what pressed on another mesh or in a piece like this one, a row a situation; a good one saves
/// time, and changes no number)
/// Where what passes would tip the top, so much of it is set down as does not quite
/// (SituationPlan::set_down).
std::vector<ConnectedSituation> connection_situations(const Model& model, std::vector<SituationPlan> plans,
                                                      std::span<const std::vector<char>> guess = {});
std::vector<ConnectedSituation> connection_situations(const Piece& piece, const Model& model,
                                                      std::span<const std::vector<char>> guess = {});
/// ... nodal forces of the connections on the top, one column a situation, for Factor::solve to answer; ...
std::vector<double> connection_forces_of(const Model& model, std::span<const ConnectedSituation> connected);
void append_connection_forces(const Model& model, std::span<const ConnectedSituation> connected,
                              std::vector<double>& columns);
/// ... what the loads do, which the model knows, added to the answers; ...
void add_moved_by_loads(const Model& model, std::span<const ConnectedSituation> connected,
                        std::span<double> answered);
/// ... and the situations. What is in `answered` is lost. `residual_of_many`: of a SumOfAnswers that these
/// are in.
std::vector<SolvedSituation> finish_situations(const Model& model, std::vector<ConnectedSituation> connected,
                                               std::span<double> answered,
                                               std::optional<double> residual_of_many = std::nullopt);

/// Is one solve enough, and no reaction at held dofs asked for? Then one product, of the sum of many answers,
/// may prove them all.
bool is_proved_at_once(const Model& model);

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

/// What a situation's connections alone tell: all but movements, reactions and residual.
SolvedSituation unsolved(const Model& model, ConnectedSituation connected);

} // namespace hollowtop
