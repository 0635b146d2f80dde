// SPDX-License-Identifier: MIT
#pragma once
/// \file  A push on the skin of each recess where it gives way most: a thumb, a sanding pad, a heel, a hand
/// that leans (materials/push.hpp).
///
/// The weakest place is where a membrane hung over the skin sags most under an even pressure: walls and
/// stiffeners hold it, free edges do not, and a land floats in it as a stiff island. Across the stiffer way
/// it is taken shorter by the fourth root of Q_x / Q_y, as an orthotropic plate is (Timoshenko and
/// Woinowsky-Krieger, Theory of Plates and Shells, 1959, art. 85 to 87). That the plate gives way no more
/// elsewhere is tested. There the whole top is solved again on a mesh drawn
/// together at that place, walls and stiffeners included, under the push alone. Supports count as holding
/// both ways: what the rim does far away changes nothing under a thumb. Units: N, mm, MPa. Limits: plate
/// theory under a patch that may be smaller than the skin is thick (the wood under it also gives way by
/// bearing).

#include "solver/model/model.hpp"
#include "solver/model/plan_model.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"

#include <optional>
#include <vector>

namespace hollowtop {

/// Where the skin of each recess gives way most; empty where a recess has no room.
std::vector<std::optional<Point>> weakest_places(const Piece& piece, const ModelPlan& plan);

/// Every push at a place of each recess, or none where it is empty; `fine`: cell size about it, mm.
std::vector<SkinPush> push_at(const Piece& piece, const std::vector<std::optional<Point>>& places,
                              int threads, double fine = 16);

/// Every push on every recess, in the order of the recesses, then of the table. Cost: one factor of a coarse
/// mesh.
std::vector<SkinPush> push_skins(const Piece& piece, int threads);

} // namespace hollowtop
