// SPDX-License-Identifier: MIT
#pragma once
/// \file  What an integral of a high power of the plate's stresses leaves out.
///
/// Beside a corner of a recess, a corner of the outline that points inwards and the end of a line that holds
/// the top, a plate's moments grow without limit (as r^-0.46 about a recess corner of the woods tried), and
/// the power 5 of that has no finite integral. Within about a skin's thickness of a wall plate theory tells
/// little anyway: what happens there is read from the wall's own cross-section.
/// So a round about each is left out: one skin thickness on either side of a wall, but never more than a
/// quarter of the room between the wall and the next change of thickness, so that ribs and narrow recesses
/// stay in; one thickness about an inward corner or a line's end.

#include "solver/mesh/thickness_field.hpp"

#include <span>
#include <vector>

namespace hollowtop {

struct LeftOut {
    /// About a wall of the field.
    struct Beside {
        int wall = 0;
        double thin_side = 0, thick_side = 0; ///< how far
    };
    struct Disc {
        Point at{};
        double radius = 0;
    };
    std::vector<Beside> walls{};
    std::vector<Disc> discs{};
    std::vector<EdgePiece> edges{};             ///< of all that is left out; some lie inside it
    BoxGrid walls_by_place{}, discs_by_place{}; ///< of the boxes of what is left out
};

/// `line_ends`: of the lines that hold or bear the top.
LeftOut left_out(const ThicknessField& field, std::span<const Point> line_ends);

/// Indices of the walls and discs that reach into the box.
struct LeftOutNear {
    std::vector<int> walls{}, discs{};
    bool empty() const { return walls.empty() && discs.empty(); }
};
LeftOutNear near_of(const LeftOut& left, const ThicknessField& field, const Rectangle& box);

/// Of a point on the top, of that thickness.
bool is_left_out(const LeftOut& left, const ThicknessField& field, const LeftOutNear& near, Point point,
                 double thickness);

} // namespace hollowtop
