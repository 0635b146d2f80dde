// SPDX-License-Identifier: MIT
#pragma once
/// \file  From solved situations to what the checks read, and the mesh error between two orders of one mesh.

#include "solver/analysis/movement.hpp"
#include "solver/analysis/response.hpp"
#include "solver/analysis/walls.hpp"
#include "solver/analysis/respond.hpp"
#include "solver/shell/recovery.hpp"

#include <map>
#include <memory>
#include <span>
#include <utility>
#include <vector>

namespace hollowtop {

/// Means at points asked for before, on one mesh: the search for the worst place asks for the same ones again and again.
using MeansAt = std::map<std::pair<double, double>, StrainMean>;

/// What is the same for every situation of a model.
struct ReadAt {
    const std::vector<DishPoint>& dish;
    const std::vector<WallPoint>& walls;
    std::shared_ptr<MeansAt> kept{}; ///< empty: means of its own
    bool quick = false; ///< a first look: no stresses but those of the survey, and no probes
};
/// All but the buckling factor. `survey` are the stresses at the means of `read` (stresses_in).
SituationResponse situation_response(const Piece& piece, const std::shared_ptr<const Model>& model, const SolvedSituation& solved,
                                     const ReadAt& read, std::vector<StressSample> survey);

/// The model is shared: the response's stress fields keep it alive. `means_at` may be empty, or those of a response on the
/// same mesh.
Response gather_response(const Piece& piece, const std::shared_ptr<const Model>& model, const std::vector<SolvedSituation>& solved,
                         const std::vector<StrainMean>& means, std::shared_ptr<MeansAt> means_at = nullptr);

/// How far the higher order may be from the truth: one and a half times its difference from the lower one in sag and dish,
/// twice in the greatest face stresses along and across the grain. A dish of less than a tenth of the sag counts by that tenth: the
/// mesh is not refined for what nobody sees.
struct MeshError {
    double sag_percent = 0, stress_percent = 0;
};
MeshError mesh_error(const Model& low, const std::vector<SolvedSituation>& low_solved, const Model& high,
                     const std::vector<SolvedSituation>& high_solved, const std::vector<StrainMean>& means);

/// Face stresses of a situation at a mean; after the years the wood's modulus is the reduced one.
StressSample stress_in(const Shell& shell, const SolvedSituation& situation, const StrainMean& mean);

/// The same at all of the means in several situations: a row for each situation.
std::vector<std::vector<StressSample>> stresses_in(const Shell& shell, std::span<const SolvedSituation* const> situations,
                                                   const std::vector<StrainMean>& means);

} // namespace hollowtop
