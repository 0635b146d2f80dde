// SPDX-License-Identifier: MIT
#pragma once
/// \file  What holds the top, as lines that are held both ways and as points that press.
///
/// A pad or a bearer is a bed of springs over its contact area: its stiffness is the top's own compression
/// across the grain through its thickness, E3 / h (MPa/mm), unless the piece states one. A knife edge that
/// holds down is a held line; one that only presses is a row of stiff points on the mesh's own nodes.

#include "materials/message.hpp"
#include "solver/interface/contact_point.hpp"
#include "solver/piece/piece.hpp"
#include "solver/shell/shell.hpp"

#include <string>
#include <vector>

namespace hollowtop {

struct SupportPlan {
    std::vector<HeldLine> held;
    std::vector<ContactPoint> points; ///< pads and bearers; knife edges come from knife_edge_points()
    MeshWishes wishes;
    std::vector<Point> centres;     ///< one a support
    std::vector<Rectangle> extents; ///< one a support
    std::vector<double> areas;      ///< bearing area, mm2; 0 for knife edges and held lines
    std::vector<double>
        bearing; ///< share of each that bears; less than 1 where part of it lies under a recess and is not packed
    std::vector<Message> assumptions, warnings;
    bool all_one_sided = true; ///< nothing holds the top down
};

/// `through_thickness_modulus` E3, MPa. `coarse` as in BedNature.
SupportPlan plan_supports(const Piece& piece, const ThicknessField& field, const PlaneStiffness& plane,
                          double through_thickness_modulus, bool coarse = false);

} // namespace hollowtop
