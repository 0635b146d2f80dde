// SPDX-License-Identifier: MIT
#pragma once
/// \file  What all that touches a factored top sees of it and of one another: unit forces at its places, how
/// the top answers them, and the compliance between connections. What was found for the last places that
/// screws had is kept in the model.

#include "solver/model/model.hpp"

namespace hollowtop {

/// Unit forces at the model's points, then on the columns of its bars.
SparseColumns forces_on_columns(const Model& model);

/// Fills Model::columns for the bars that now lie under it. Model::factor, rigid and moved must be known.
void answer_columns(Model& model);

/// Fills ConnectionSet::between for connections on Model::columns.
void fill_compliance(Model& model, ConnectionSet& set);

} // namespace hollowtop
