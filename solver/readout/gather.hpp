// SPDX-License-Identifier: MIT
#pragma once
/// \file  From solved situations to what the checks read.

#include "solver/readout/movement.hpp"
#include "solver/readout/skin_buckling.hpp"
#include "solver/readout/span.hpp"
#include "solver/readout/stresses_at.hpp"
#include "solver/readout/walls.hpp"
#include "solver/result/response.hpp"
#include "solver/shell/recovery.hpp"
#include "solver/shell/tension_across.hpp"
#include "solver/situations/respond.hpp"

#include <memory>
#include <span>
#include <vector>

namespace hollowtop {

/// All but probes, the buckling factor and stresses elsewhere than in the survey. `survey` are the stresses
/// at its means (stresses_in), `spans` what is known of spans of the piece; it may be missing.
SituationResponse situation_response(const Piece& piece, const Model& model, const SolvedSituation& solved,
                                     const Movements& movements, std::span<const WallPoint> walls,
                                     std::vector<StressSample> survey, const KeptSpans* spans = nullptr);

KeptSpans spans_of(const Piece& piece, const Shell& shell);

/// Where a model is read: the same for every situation, and for every stiffener under the same top.
struct Readings {
    std::vector<StrainMean> survey{};
    DishGrid dish{};
    std::vector<WallPoint> walls{};
    std::vector<SkinPoints> skins{};
    TensionPoints tension{};
};
/// `line_ends` as Model has them.
Readings readings_of(const Shell& shell, std::span<const Point> line_ends = {});

/// Tension across the grain of each situation, summed up over the top.
std::vector<TensionAcross> tension_across_in(const Shell& shell, const TensionPoints& points,
                                             std::span<const SolvedSituation* const> situations);

/// Fills the greatest mean over a square one thickness wide, of the places whose wood is summed up.
void seek_greatest_mean(const Shell& shell, const TensionPoints& points, const StressField& stress,
                        TensionAcross& tension);

/// What is read of one piece's situations before its checks are.
struct Readout {
    std::vector<std::vector<StressSample>> survey{}; ///< stresses at the readings' survey, a row a situation
    std::vector<TensionAcross> tension{};            ///< across the grain, of each situation
    std::vector<Movements> movements{};              ///< of each situation
    std::shared_ptr<StressesAt> stresses{};
    size_t first_field = 0; ///< of the situations, in `stresses`
};
/// The model is shared: what reads stresses keeps it alive. `means_at` may be empty, or those of a readout on
/// the same mesh.
Readout read_out(const std::shared_ptr<const Model>& model, const std::vector<SolvedSituation>& solved,
                 const Readings& readings, std::shared_ptr<MeansAt> means_at = nullptr);

/// Reads stresses of several pieces on one mesh together; only the shell of the model is looked at, and the
/// movements are left out.
std::vector<Readout> read_stresses_together(std::shared_ptr<const Model> model,
                                            std::span<const std::vector<SolvedSituation>* const> pieces,
                                            const Readings& readings, std::shared_ptr<MeansAt> means_at);

/// `survey_alone`: stresses are known where the survey has them, and peaks between its places are missed.
Response gather_response(const Piece& piece, const std::shared_ptr<const Model>& model,
                         const std::vector<SolvedSituation>& solved, const Readings& readings,
                         Readout readout, bool survey_alone = false);
Response gather_response(const Piece& piece, const std::shared_ptr<const Model>& model,
                         const std::vector<SolvedSituation>& solved, const Readings& readings);

} // namespace hollowtop
