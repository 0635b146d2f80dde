// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a piece asks of its model before there is a mesh: material, thicknesses, supports, connections.

#include "solver/interface/connection_plan.hpp"
#include "solver/interface/supports.hpp"
#include "solver/mesh/thickness_field.hpp"
#include "solver/piece/piece.hpp"
#include "solver/section/plane_stiffness.hpp"

namespace hollowtop {

/// What a piece asks of its model before there is a mesh.
struct ModelPlan {
    PlaneStiffness plane{};
    ThicknessField field{};
    double through_thickness_modulus = 0;
    SupportPlan supports{}; ///< its wishes are those of everything that wants mesh lines
    ConnectionPlan bars{};
};
/// `glued_too` as in plan_connections, `coarse_beds` as in plan_supports.
ModelPlan plan_model(const Piece& piece, bool with_wall_compliance, bool glued_too = true,
                     bool coarse_beds = false);

/// Young's modulus through the thickness, MPa; for a sheet of stated constants E2 stands in.
double through_thickness_modulus(const Piece& piece);

} // namespace hollowtop
