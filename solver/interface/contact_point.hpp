// SPDX-License-Identifier: MIT
#pragma once
/// \file  Where something presses on the top's underside.

#include "solver/piece/piece.hpp"

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

} // namespace hollowtop
