// SPDX-License-Identifier: MIT
#pragma once
/// \file  Every situation of a piece solved on its model: which supports press, how the top moves, what each support carries.
///
/// Situations, in order: the standing loads (permanent and long) at once; the same after the years, on moduli reduced to
/// E/(1 + k_def) (EN 1995-1-1 2.3.2.2); then the standing loads with each medium, short or instantaneous load in turn, at
/// once. A piece with a single load and no weight has that load alone as its first situation.

#include "solver/analysis/loads.hpp"
#include "solver/analysis/model.hpp"
#include "solver/analysis/response.hpp"
#include "solver/interface/complementarity.hpp"

#include <span>
#include <string>
#include <vector>

namespace hollowtop {

/// Which loads act together, and on which stiffness.
struct SituationPlan {
    std::string name;
    Duration duration = Duration::short_term; ///< of the shortest load
    Stage stage = Stage::passing;
    std::vector<int> loads; ///< indices into Model::loads
    int passing = -1;       ///< index of the passing load, or -1
    double softening = 1;   ///< 1 + k_def after the years
};

/// Where the top may rest: the corners of what it may tip about.
std::vector<Point> resting_places(const Model& model);

/// The stiffeners' weight counts where the top's own does.
Resultant resultant_of_loads(const Model& model, const std::vector<int>& loads);

std::vector<SituationPlan> plan_situations(const Piece& piece, const Model& model);

struct SolvedSituation {
    SituationPlan plan;
    std::vector<double> dofs;           ///< movement of the reference surface, mm
    std::vector<double> point_force;    ///< at Model::points, upward on the top, N
    std::vector<char> point_presses;
    std::vector<double> tie_force, tie_gap; ///< at Model::ties
    std::vector<char> tie_presses;
    std::vector<double> support_force;  ///< one a support, upward, N
    Resultant applied;
    double equilibrium_error = 0;
    double residual = 0; ///< work of the forces left unbalanced against the work of the loads
    std::optional<double> tipping_factor;
    std::optional<double> tipping_factor_solid{}; ///< had the top not been hollowed
};

/// What each tie carries in a situation.
struct TiedSituation {
    SituationPlan plan;
    ContactAnswer answer; ///< one entry a tie of Model::ties; rigid motions of the top first, then six a bar
};

/// Throws Error(not_computable) where no support forces balance a situation, naming the line about which the top tips and
/// the share of the load at which it does; or where residual or the last
/// correction of the movements stays above 1e-5. `alike`: of a model of the same piece, to start from.
std::vector<SolvedSituation> solve_situations(const Piece& piece, const Model& model, std::span<const TiedSituation> alike = {});

/// The same in steps, for whoever has many models to solve: what each tie carries, ...
std::vector<TiedSituation> tie_situations(const Piece& piece, const Model& model, std::span<const TiedSituation> alike = {});
/// ... all nodal forces on the top, of loads and ties, one column a situation, ...
std::vector<double> columns_of(const Model& model, std::span<const TiedSituation> tied);
/// ... and, once Factor::solve has answered these columns, the situations.
std::vector<SolvedSituation> finish_situations(const Model& model, std::vector<TiedSituation> tied, std::vector<double> columns);

/// What a situation's ties alone tell: all but movements, reactions and residual.
SolvedSituation unsolved(const Model& model, TiedSituation tied);

} // namespace hollowtop
