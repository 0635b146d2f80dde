// SPDX-License-Identifier: MIT
#pragma once
/// \file  A connection between a bar and the top, and all of them: plain structs. How they come about: connections.hpp.
/// Units: N, mm, MPa.

#include "materials/message.hpp"
#include "solver/interface/beam.hpp"
#include "solver/interface/contact_point.hpp"
#include "solver/mesh/mesh.hpp"
#include "solver/numeric/inline_vector.hpp"

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
    std::vector<Message> assumptions, warnings{};
};

} // namespace hollowtop
