// SPDX-License-Identifier: MIT
#pragma once
/// \file  The piece made ready to be loaded: shell, factor, supports, rigid motions, and the flexibility at the interface.
///
/// The top floats free; the factor is made of the top with just enough dofs pinned to stop its rigid motions. Once loads and
/// supports balance, the pins carry nothing, which the residual proves. All that opens or closes lives in the small dense
/// problem at the interface points (solver/interface/complementarity.hpp).

#include "solver/analysis/loads.hpp"
#include "solver/interface/supports.hpp"
#include "solver/piece/piece.hpp"
#include "solver/shell/factor.hpp"
#include "solver/shell/shell.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

/// A column of nodal forces and what it is.
struct LoadColumn {
    std::string name;
    Duration duration = Duration::short_term;
    std::vector<double> forces;
    std::vector<LoadPoint> points; ///< where it rests; none for the top's own weight, which lies in its sections
};

struct Model {
    Shell shell; ///< once factored its stiffness holds nothing: products with it show the held lines' and pins' forces
    SupportPlan supports;
    std::vector<ContactPoint> points; ///< all interface points
    std::vector<std::vector<double>> rigid; ///< rigid motions that no held line stops, over all dofs
    std::vector<int> pins;                  ///< dofs held only to stop rigid motions; they carry nothing
    std::optional<Factor> factor;
    SparseColumns point_columns;            ///< unit upward forces at the interface points
    std::vector<double> flexibility;        ///< at the points, points.size() squared
    std::vector<LoadColumn> loads;          ///< own weight first where it counts, then the piece's loads
    std::vector<std::vector<double>> moved; ///< answer of the pinned top to each load
};

struct ModelOptions {
    ShellOptions shell;
    int threads = 1;
};

/// Throws Error(not_computable) where the stiffness is not positive definite, with the place.
Model make_model(const Piece& piece, const ModelOptions& options);

/// The shell, its held lines and its interface points alone: no factor, no loads.
Model make_unfactored_model(const Piece& piece, const ModelOptions& options);

/// Rigid motions of the shell that its held lines allow.
std::vector<std::vector<double>> free_rigid_motions(const Shell& shell);

/// Dofs whose pinning stops the given rigid motions.
std::vector<int> pins_for(const Shell& shell, const std::vector<std::vector<double>>& rigid);

/// Young's modulus through the thickness, MPa; for a sheet of stated constants E2 stands in.
double through_thickness_modulus(const Piece& piece);

/// B x: upward movement at each interface point.
std::vector<double> at_points(const SparseColumns& columns, const std::vector<double>& dofs);

} // namespace hollowtop
