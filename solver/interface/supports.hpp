// SPDX-License-Identifier: MIT
#pragma once
/// \file  What holds the top, as lines that are held both ways and as points that press.
///
/// A pad or a bearer is a bed of springs over its contact area: its stiffness is the top's own compression
/// across the grain through its thickness, E3 / h (MPa/mm), unless the piece states one. A knife edge that
/// holds down is a held line; one that only presses is a row of stiff points on the mesh's own nodes.

#include "solver/piece/piece.hpp"
#include "solver/shell/shell.hpp"

#include <array>
#include <string>
#include <vector>

namespace hollowtop {

inline constexpr int any_level = -2;

/// A tile of a pad or bearer, pressed evenly, its movement the mean over it; or a point of a knife edge (half
/// sizes 0). Tiles, not points: under a point the movement of a shear-soft plate has no limit as the mesh is
/// refined.
struct ContactPoint {
    int support = 0;
    Point at{};
    double compliance = 0; ///< of the support, mm/N
    double area = 0;       ///< mm2; mm of line on a knife edge
    bool two_sided = false;
    Point axis{1, 0}; ///< unit vector along the tile
    double half_along = 0, half_across = 0;
    /// The tile's pressure grows along and across it as (1 + lean_along s)(1 + lean_across t), s and t from
    /// -1 to 1. Its force then acts off its middle.
    double lean_along = 0, lean_across = 0;
    Point to_middle{};     ///< from `at`, where the force acts, to the tile's middle
    int level = any_level; ///< region of the thickness field: the tile bears on that part of itself alone
    double gap = 0;        ///< between support and underside as long as nothing bends, mm
    bool operator==(const ContactPoint&) const = default;
};

struct SupportPlan {
    std::vector<HeldLine> held;
    std::vector<ContactPoint> points; ///< pads and bearers; knife edges come from knife_edge_points()
    MeshWishes wishes;
    std::vector<Point> centres;     ///< one a support
    std::vector<Rectangle> extents; ///< one a support
    std::vector<double> areas;      ///< bearing area, mm2; 0 for knife edges and held lines
    std::vector<double>
        bearing; ///< share of each that bears; less than 1 where part of it lies under a recess and is not packed
    std::vector<std::string> assumptions, warnings;
    bool all_one_sided = true; ///< nothing holds the top down
};

/// `through_thickness_modulus` E3, MPa. `coarse` as in BedNature.
SupportPlan plan_supports(const Piece& piece, const ThicknessField& field, const PlaneStiffness& plane,
                          double through_thickness_modulus, bool coarse = false);

/// Does the pad stand under the middle of a rail, and so carry it in place of the top? A pad at a rail's end
/// is the leg's own top, flush with the rail: it carries the top.
bool stands_under(const Pad& pad, Point from, Point to, double width);

/// Sparse column of an upward unit force spread evenly over the tile; appended to `columns`.
void append_tile_force(const Shell& shell, const ContactPoint& tile, SparseColumns& columns);

/// The same for a force along `direction` (x, y, z) at height z from the top face.
void append_tile_force(const Shell& shell, const ContactPoint& tile, const std::array<double, 3>& direction,
                       double z, SparseColumns& columns);
/// The same for a moment of 1 N mm that turns the top's section: its upper fibres towards `direction`.
void append_tile_turn(const Shell& shell, const ContactPoint& tile, Point direction, SparseColumns& columns);

/// Quadrature points of a tile, their weights shares of its area as its pressure is spread.
std::vector<QuadraturePoint> tile_points(const Shell& shell, const ContactPoint& tile);

/// Points of the knife edges that only press (or press on a stated stiffness), on the nodes of the shell's
/// mesh.
std::vector<ContactPoint> knife_edge_points(const Piece& piece, const Shell& shell,
                                            double through_thickness_modulus);

} // namespace hollowtop
