// SPDX-License-Identifier: MIT
#pragma once
/// \file  How far a screw can go in its hole before it meets an edge. mm. All of it is common practice.

#include "solver/piece/piece.hpp"

namespace hollowtop {

/// Each way, in a hole half a millimetre wider than the screw; and in an oversize one, two millimetres wider.
inline constexpr double clearance_hole_play = 0.25, oversize_hole_play = 1;
/// Length of a slot over the screw's diameter.
inline constexpr double slot_diameters = 3;

/// Each way, of a screw of that diameter that holds a stiffener; in a slot along it, across it none.
inline double screw_play(Holes holes, double diameter) {
    switch (holes) {
    case Holes::slotted:
        return (slot_diameters - 1) / 2 * diameter;
    case Holes::oversize:
        return oversize_hole_play;
    case Holes::round: // as narrow as the screw
    case Holes::bonded:
        break;
    }
    return 0;
}

} // namespace hollowtop
