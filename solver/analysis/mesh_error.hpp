// SPDX-License-Identifier: MIT
#pragma once
/// \file  The mesh's own error, from two orders of one mesh.
///
/// The higher order is solved whole. Of the lower one only its ties are, and what it says where the higher one has its greatest sag, dish
/// and stresses (spots.hpp).

#include "solver/analysis/gather.hpp"
#include "solver/analysis/spots.hpp"

#include <span>
#include <vector>

namespace hollowtop {

/// How far the higher order may be from the truth: one and a half times its difference from the lower one in sag (at the node of the
/// greatest) and dish, twice in the greatest face stresses along and across the grain. A dish of less than a tenth of the sag counts by
/// that tenth: the mesh is not refined for what nobody sees.
struct MeshError {
    double sag_percent = 0, stress_percent = 0;
};

/// The whole answer of one order, what it is read at, and what was read.
struct WholeAnswer {
    const Model& model;
    const std::vector<SolvedSituation>& solved;
    const Readings& readings;
    const Readout& readout;
};

/// `low_tied` in the order of `high.solved`; `low_spots` is the low model's own.
MeshError mesh_error(const Model& low, std::span<const TiedSituation> low_tied, SpotReader& low_spots, const WholeAnswer& high);

} // namespace hollowtop
