// SPDX-License-Identifier: MIT
#pragma once
/// \file  How far a screw can go in its hole before it meets an edge. mm. All of it is common practice.

#include "solver/piece/piece.hpp"

namespace hollowtop {

/// Each way, in a hole half a millimetre wider than the screw; and in an oversize one, two millimetres wider.
inline constexpr double clearance_hole_play = 0.25, oversize_hole_play = 1;
/// Length of a slot over the screw's diameter, where it is not said.
inline constexpr double slot_diameters = 3;

/// Each way, of a screw that holds a stiffener; in a slot along it, across it none.
inline double screw_play(const Screws& screws) {
    switch (screws.holes) {
    case Holes::slotted:
        return (screws.slot_length.value_or(slot_diameters * screws.diameter) - screws.diameter) / 2;
    case Holes::oversize:
        return oversize_hole_play;
    case Holes::round: // as narrow as the screw
    case Holes::bonded:
    case Holes::dovetail:
        break;
    }
    return 0;
}

} // namespace hollowtop
