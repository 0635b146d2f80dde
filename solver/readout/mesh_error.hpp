// SPDX-License-Identifier: MIT
#pragma once
/// \file  The mesh's own error, from two orders of one mesh.
///
/// The higher order is solved whole. Of the lower one only its connections are, and what it says where the
/// higher one has its greatest sag, dish and stresses (output points.hpp).

#include "solver/readout/gather.hpp"
#include "solver/readout/output_points.hpp"

#include <span>
#include <vector>

namespace hollowtop {

/// How far the higher order may be from the truth: twice its difference from the lower one in sag (at the node of the
/// greatest), dish, and the greatest face stresses along and across the grain. A dish of less than a tenth of the sag
/// counts by that tenth: the mesh is not refined for what nobody sees.
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

/// `low_connected` in the order of `high.solved`; `low_output_points` is the low model's own. `low_solved`, where the
/// lower order has been solved whole, is read in its place.
MeshError mesh_error(const Model& low, std::span<const ConnectedSituation> low_connected,
                     OutputReader& low_output_points, const WholeAnswer& high,
                     std::span<const SolvedSituation> low_solved = {});

} // namespace hollowtop
