// SPDX-License-Identifier: MIT
#pragma once
/// \file  The dish of a skin by hand: a thin plate over the recess, held at its walls by the rims' own
/// torsion.
///
/// Navier's double series (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 1959, arts. 28 and
/// 85 for wood), seven terms each way, its stiffness each way raised by 5 / (5 - 4 phi): phi = 1 / (1 + 2 D /
/// (k b)) is how far a strip is held at its ends by springs k (phi = 0 lets a strip of evenly spread load sag
/// by 5/384, phi = 1 by 1/384). k = G J (pi / a)^2 of a rim of length a that is turned in a half wave. Ribs
/// between recesses that lie in a row are no supports: they are part of the skin. N, mm, MPa.

#include "solver/hand/hand_plan.hpp"

#include <array>
#include <vector>

namespace hollowtop {

struct HandSkin {
    Rectangle box;
    std::array<double, 2> D{}; ///< of a strip along x, along y, raised as above, N mm
    double twist = 0;          ///< 2 H, N mm
    double share_across = 0;   ///< of the first wave's stiffness that strips along y give
};

/// Sinking of the skin below its walls at each of `xs` x `ys`, row by row; 0 off the recess.
std::vector<double> dish_by_hand(const HandSkin& skin, const std::vector<LoadBox>& loads,
                                 const std::vector<double>& xs, const std::vector<double>& ys);

/// One a recess; recesses in a row, with ribs between them, are one skin of their mean stiffness.
std::vector<HandSkin> skins_by_hand(const Piece& piece, const HandPlan& plan);

} // namespace hollowtop
