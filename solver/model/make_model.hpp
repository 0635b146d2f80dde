// SPDX-License-Identifier: MIT
#pragma once
/// \file  Makes the model of a piece, and puts other stiffeners under one that is made.

#include "solver/model/model.hpp"
#include "solver/model/plan_model.hpp"
#include "solver/piece/piece.hpp"
#include "solver/shell/shell.hpp"

#include <memory>

namespace hollowtop {

struct ModelOptions {
    ShellOptions shell;
    int threads = 1;
    bool bonded = true;       ///< the bonded connections too: what the stiffeners would be worth if glued
    MeshWishes finer_at{};    ///< attractors besides those of the piece
    bool coarse_beds = false; ///< as in BedNature
};

/// Throws Error(not_computable) where the stiffness is not positive definite, with the place.
Model make_model(const Piece& piece, const ModelOptions& options);

/// Puts other stiffeners under a factored model: those of a piece that is the same but for them, and whose
/// plan has the same wishes for the mesh. Costs no factor, and no compliance where the new stiffeners press
/// and pull at the same places.
void change_stiffeners(Model& model, const Piece& piece, ModelPlan plan, const ModelOptions& options);

/// Puts the loads of another piece, alike but for them, on a factored model.
void change_loads(Model& model, const Piece& piece);

/// What lies under a top, taken out of its model so that other stiffeners may take the place, or put back.
/// Costs nothing.
struct Underside {
    SupportPlan supports;
    ConnectionPlan bars;
    ConnectionSet connections, bonded;
    int n_bare = 0;
    std::shared_ptr<const TopColumns> columns;
};
Underside take_underside(Model& model);
void put_underside(Model& model, Underside underside);

/// The shell, its held lines and its interface points alone: no factor, no loads.
Model make_unfactored_model(const Piece& piece, const ModelOptions& options);

} // namespace hollowtop
