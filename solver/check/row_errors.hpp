// SPDX-License-Identifier: MIT
#pragma once
/// \file  How far each row of a result may be off by the mesh: its own error, from its own number.
///
/// The checks are judged three times at the places that they found: on what order 4 says (a), on what order 3 of the
/// same mesh says (b), and on stresses of order 4 raised by a share of their jumps from cell to cell (c, see
/// stress_jump.hpp). The two orders show what more unknowns would change; the jumps show what both miss alike, in
/// layers along edges and walls that are narrower than a cell. A row may be off by
///     2 |b - a| + |c - a|,  c at a tenth of the jump,
/// as a share of a, and by no less than row_errors.cpp says of its kind (0.1 % of a sag to 2.5 % of shear through the
/// thickness). All of these numbers were set on random tables against meshes of less than half the size
/// (docs/method.md, "How sure a number is"): an estimate, no bound.

#include "solver/capacity/allowables.hpp"
#include "solver/model/model.hpp"
#include "solver/piece/piece.hpp"
#include "solver/readout/mesh_error.hpp"
#include "solver/result/response.hpp"
#include "solver/result/result.hpp"
#include "solver/situations/respond.hpp"

#include <vector>

namespace hollowtop {

/// One piece solved in two orders of one mesh; of the lower one the loads as they are alone.
struct TwoOrders {
    const Piece& piece;
    const Model& high;
    const std::vector<SolvedSituation>& high_solved;
    const Model& low;
    const std::vector<SolvedSituation>& low_solved;
};

/// Fills CheckResult::error_percent of every row that a mesh errs in. `response`: what the rows were judged on.
void find_row_errors(const TwoOrders& orders, Response response, KeptAllowables& kept, Result& result);

/// Is a row over its limit whatever its error is? The verdict needs no more digits then.
bool surely_fails(const Result& result);

/// Is the error of a row that somebody relies on more than is wanted: of what governs, of one that its own error takes
/// over its limit, of one that uses more than half of its limit? Never where a row fails whatever its error is.
bool decides_too_roughly(const Result& result, double movement_percent, double stress_percent);

/// The greatest errors of such rows and of every sag, and of the stress that uses most of its limit.
MeshError errors_that_count(const Result& result);

} // namespace hollowtop
