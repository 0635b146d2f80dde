// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a screw bears at most, no safety in it. Sheared: the load at which it bends and crushes the wood (Johansen;
/// EN 1995-1-1 8.2.2 and 8.2.3 with the wood's mean density, f_u 600 MPa, and the rope effect). Pulled: the ultimate
/// withdrawal of Wood Handbook Eq. 8-10. N, mm. Limits: hardened screws may bear a third more in shear; heads that are
/// pulled through are not seen.

#include "solver/piece/piece.hpp"

namespace hollowtop {

/// 0 where not known: of a top without density, or of no wood.
struct ScrewBorne {
    double shear_N = 0, pulled_N = 0;
};
/// `thread`: length in the top's wood.
ScrewBorne borne_by_screw(const Piece& piece, const Stiffener& stiffener, double thread);

} // namespace hollowtop
