// SPDX-License-Identifier: MIT
#pragma once
/// \file  What connects bars to the top: screws, glue, and the wood's own pressure on them; and what holds
/// a rail up.
///
/// A connection is a place, a direction, and a compliance. Its gap is the movement of the top against the
/// bar along the direction; gap = 0 where it holds both ways, gap >= 0 with a force that only pushes where it
/// is a stop.
///   contact     the bar presses on the wood, tile by tile, two tiles across where a screw is, so that the bar cannot roll
///   withdrawal  a screw pulls the bar to the wood
///   shear       a screw in a tight hole, both ways, its slip stiffness between bar and wood
///   stop        the edge of a slot or of an oversize hole: nothing until the clearance is used
///   bond        glue, along, across and up, tile by tile; where a bar is glued as drawn, the sections of top and bar turn as one
///               (the full composite section; on its own the face's pull would leave the top's section its shear)
///   rail end    what holds a rail in its legs: up, across, against rolling, and along at its start
/// Slots run across the grain of the TOP, the way the wood moves; one screw, the one nearest the middle, sits
/// in a round hole and fixes the bar (common practice).

#include "solver/interface/connection_plan.hpp"
#include "solver/mesh/thickness_field.hpp"
#include "solver/piece/piece.hpp"

namespace hollowtop {

/// How finely a screwed bar is cut: the longest stretch of wood that presses on it as one, and how far the seat of a screw
/// reaches each way at most. mm.
struct BarDivision {
    double longest = 100, widest_seat = 20;
};

/// `density_kg_m3` of the top: it sets the slip stiffness of screws. Unless `glued_too`, the bonded
/// connections of screwed stiffeners hold upwards alone, by columns that the screwed ones need as well: they
/// show where the bars touch, and no more.
ConnectionPlan plan_connections(const Piece& piece, const ThicknessField& field,
                                double through_thickness_modulus, double density_kg_m3, bool glued_too = true,
                                const BarDivision& division = {});

/// The rail that a pad stands under, or -1. A pad at a rail's end is the leg's own top, flush with the rail:
/// it carries the top.
int rail_over(const ConnectionPlan& plan, const Pad& pad);

} // namespace hollowtop
