// SPDX-License-Identifier: MIT
#pragma once
/// \file  What all parts of a top share when the seasons move them: directions, swelling a point of moisture,
/// relaxation, strengths; and the result that each part adds its rows to.

#include "materials/strength.hpp"
#include "solver/mesh/thickness_field.hpp"
#include "solver/seasons/restraint.hpp"
#include "solver/seasons/season_rows.hpp"
#include "solver/section/section_stiffness.hpp"

#include <cmath>
#include <optional>

namespace hollowtop {

/// Directions of the piece, and how much a point of moisture does.
struct Ground {
    const Piece& piece;
    Seasons& out;
    ThicknessField field;
    PlaneStiffness plane;
    Elastic elastic;
    Point along, across;
    Relaxation relaxation;
    std::optional<materials::AllowableStresses> allowed;

    double coordinate(Point p) const { return p.x * across.x + p.y * across.y; }
    Swing swing(double size, double per_point) const {
        return {.shrinks = std::abs(size) * per_point * out.moisture.shrinking_points(),
                .grows = std::abs(size) * per_point * out.moisture.growing_points()};
    }
    Swing across_swing(double size) const { return swing(size, out.across.value); }
};

/// Of a top of wood. `out.moisture` and the movement a point are filled; the rest is added to by whoever looks at a part.
/// Throws Error(input) where the air is impossible.
Ground ground_of(const Piece& piece, Seasons& out);

} // namespace hollowtop
