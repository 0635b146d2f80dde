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

#include "solver/interface/contact_point.hpp"
#include "solver/mesh/thickness_field.hpp"
#include "solver/section/plane_stiffness.hpp"

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
    int at_most =
        0; ///< tiles each way on one level where many beds lie beside one another: 1 or 2; 0: as many as it takes
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

} // namespace hollowtop
