// SPDX-License-Identifier: MIT
#pragma once
/// \file  What connects bars to the top: screws, glue, and the wood's own pressure on them; and what holds
/// a rail up.
///
/// A connection is a place, a direction, and what gives there. Its gap is the movement of the top against the
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

#include "solver/interface/beam.hpp"
#include "solver/interface/supports.hpp"
#include "solver/mesh/thickness_field.hpp"
#include "solver/numeric/inline_vector.hpp"
#include "solver/piece/piece.hpp"

#include <array>
#include <string>
#include <vector>

namespace hollowtop {

/// A unit force spread over a tile of the top's underside.
struct TopColumn {
    ContactPoint tile{};
    std::array<double, 3> direction{}; ///< x, y, z
    double z = 0;                      ///< from the top face
    double turn =
        0; ///< where not 0: a moment of so many N mm that turns the section along `direction` instead
    bool operator==(const TopColumn&) const = default;
};

enum class ConnectionKind { support, contact, withdrawal, shear, stop, bond, rail_end };

struct ConnectionShare {
    int column = 0; ///< of the top's columns
    double share = 0;
    bool operator==(const ConnectionShare&) const = default;
};

struct Connection {
    ConnectionKind kind = ConnectionKind::support;
    int beam = -1;
    int screw = -1;                         ///< index into ConnectionPlan::screws
    int support = -1;                       ///< whose force it is: rail ends, pads and bearers
    InlineVector<ConnectionShare, 2> top{}; ///< the force on the top for a unit of the connection's
    InlineVector<BeamForce, 2> on_beam{};   ///< the force on the bar
    double compliance = 0;                  ///< mm/N
    int creep = 0;        ///< after the years the compliance is 1 + creep k_def times as great
    double clearance = 0; ///< free travel before it acts, mm
    bool two_sided = true;
    Point at{};
    double s = 0;    ///< along the bar from its middle
    double area = 0; ///< of contact, mm2
    Point way{};     ///< of a screw's shear or stop, in plan
};

struct ScrewSeat {
    int stiffener = 0;
    Point at{};
    double s = 0;
    double wood = 0;    ///< thickness of the wood there, mm
    double thread = 0;  ///< length in the wood, mm
    bool fixes = false; ///< the one round hole of a slotted bar
};

struct ConnectionPlan {
    std::vector<Beam> beams; ///< rails first, then stiffeners
    int n_rails = 0;
    std::vector<int> rail_support; ///< one a rail
    std::vector<TopColumn> columns;
    std::vector<Connection> rail_connections;   ///< columns counted from 0
    std::vector<Connection> connections;        ///< of the stiffeners as drawn
    std::vector<Connection> bonded_connections; ///< of the stiffeners as if glued all along
    std::vector<ScrewSeat> screws;
    MeshWishes wishes;
    std::vector<std::string> assumptions, warnings{};
};

/// `density_kg_m3` of the top: it sets the slip stiffness of screws. Unless `glued_too`, the bonded
/// connections of screwed stiffeners hold upwards alone, by columns that the screwed ones need as well: they
/// tell where the bars touch, and no more.
ConnectionPlan plan_connections(const Piece& piece, const ThicknessField& field,
                                double through_thickness_modulus, double density_kg_m3,
                                bool glued_too = true);

/// The rail that a pad stands under, or -1. A pad at a rail's end is the leg's own top, flush with the rail:
/// it carries the top.
int rail_over(const ConnectionPlan& plan, const Pad& pad);

/// Free travel each way of a screw in its hole, mm: across its slot none.
double clearance_of(const Screws& screws);

} // namespace hollowtop
