// SPDX-License-Identifier: MIT
#pragma once
/// \file  How a bed is cut into divisions across and along it: narrow ones where a turning top presses. mm.
/// Why so: docs/method.md, "What holds the top".

#include <vector>

namespace hollowtop {

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
/// Adds equal divisions from `from` to `to`, as few as are not longer than `longest`.
void cut_evenly(std::vector<BedDivision>& divisions, double from, double to, int points, double longest);

} // namespace hollowtop
