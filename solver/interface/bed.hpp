// SPDX-License-Identifier: MIT
#pragma once
/// \file  A bed of springs under a rectangle, cut into tiles so that it answers as the continuous bed does.
///
/// A rigid support presses where the bending top leaves it: on a division along its inner edge that is often
/// only some millimetres wide, or over its whole width where it holds the top down. Tiles of even pressure
/// would have to be as narrow all over. So the rectangle is cut into a few divisions, narrow ones along its
/// edges, and in each division the pressure is linear: two tiles share it, whose pressures are the linear
/// functions that vanish at each other's Gauss point. Their springs are then uncoupled, their forces act at
/// the Gauss points, and a pressure that is a cubic across the division has its force and moment right.
/// A tile lies on one level of the underside. Under a recess there is a gap as deep as the recess, and a tile
/// with that gap.

#include "solver/interface/supports.hpp"

#include <optional>
#include <vector>

namespace hollowtop {

struct BedShape {
    Point centre, axis{1, 0}; ///< unit vector along it
    double half_along = 0, half_across = 0;
};

struct BedNature {
    double modulus = 0;             ///< of the wood through its thickness, MPa
    std::optional<double> stated{}; ///< stiffness of the bed, MPa/mm, in its place
    bool held = false;              ///< pulls too
    bool packed = false;            ///< what is left between it and the floor of a recess is filled
    Point extent{};                 ///< length and width of the top
    bool coarse =
        false; ///< few even tiles, for what looks at hundreds of places and keeps none of the numbers
};

struct Bed {
    std::vector<ContactPoint> points{}; ///< of support 0
    double bearing = 1;                 ///< share of the area that bears as drawn
    double gap = 0;                     ///< the deepest under the rest
    int recess = -1;                    ///< that lies over most of the rest
};

Bed make_bed(const BedShape& shape, const BedNature& nature, const ThicknessField& field,
             const PlaneStiffness& plane);

/// A part of the way across a bed: in it the pressure is even (one point) or linear (two).
struct BedDivision {
    double from = 0, to = 0;
    int points = 2;
};

/// How the top bends over a bed, as far as its cutting asks.
struct BedBending {
    bool held = false;
    double reach = 0; ///< over what length the bed's pressure fades, (4 D / k)^(1/4)
    double edge = 0;  ///< width of the division on which a turning top is expected to press
    bool low_edge = true, high_edge = true; ///< at which ends it is expected to
    int divisions = 2; ///< how many narrow divisions there, each three times as wide as the one before it
};

/// Cuts `from`..`to` across a bed; along one that is longer than wide.
std::vector<BedDivision> divisions_across(double from, double to, const BedBending& bending);
std::vector<BedDivision> divisions_along(double from, double to, const BedBending& bending);

/// Places spread evenly over a rectangle, at which a tile of one level looks for its own part.
std::vector<Point> level_samples(Point middle, Point axis, double half_along, double half_across);

/// Where along the line from -half to half about `centre` the underside changes its level, from the first end
/// to the last.
struct LevelStretch {
    double from = 0, to = 0;
    int region = 0;
};
std::vector<LevelStretch> levels_along(const ThicknessField& field, Point centre, Point axis, double half);

/// The supports as far as the top rests on them: of bearers and rails that run under a recess the stretches
/// at full thickness, by their middle lines; without pads that lie wholly under one. All of them where
/// nothing would be left.
std::vector<Support> parts_that_bear(const Piece& piece, const ThicknessField& field);

} // namespace hollowtop
