// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the seasons leave of a top's bow where it stands: on its supports, under its own weight, over its bars.
///
///      free      .-''''''-.          held    _.------._      the bar bends too, and the screws that stop the
///               /          \                =|==|==|==|=     top from leaving it are pulled
///
/// The free strains of the zones are a load on the same contact problem as any other: supports and bars that press or
/// let go, screws that pull, slots with their play (docs/method.md, "What holds the top"). What the weight alone does
/// is taken off the shape. Breadboard ends hold as dovetails do, on their whole width (solver/piece/ends.hpp). A screw bears no more than its yield load (Johansen's, EN 1995-1-1 8.2.3 and 8.2.2) with the
/// wood's mean density, nor than its ultimate withdrawal (Wood Handbook Eq. 8-10), and slips on at that.
/// N, mm. Limits: no friction, no creep; the way there is not followed, only the end of it.

#include "solver/seasons/ring_cup.hpp"
#include "solver/seasons/zone_fields.hpp"

#include <span>
#include <string>
#include <vector>

namespace hollowtop {

struct HeldShape {
    Cup shape;                ///< without what the weight alone does
    double greatest_pull = 0; ///< of a stiffener's screw out of the wood, N, the weight's with it
    std::string pulled;       ///< that stiffener
    Point pulled_at{};
    double greatest_shear = 0; ///< of a screw, along and across its stiffener together, N
    std::string sheared;
    /// What such a screw bears where it no longer bends with the wood but yields, or is drawn out; 0 where not known.
    double shear_borne = 0, pull_borne = 0;
    double greatest_on_tail =
        0; ///< of a dovetail or a tongue on the wood that it holds down or up, N a mm, over 100 mm of it
    std::string tail;
    bool yields = false,
         is_drawn_out = false;        ///< a screw reached that: what it bears then is all that is told of it
    std::vector<std::string> lets_go; ///< supports that press under the weight alone and no more
};

/// One answer a set of strains; the strains of each set in the order of the zones. Throws Error(not_computable) where
/// the supports do not hold the top under its own weight, or residuals are above 1e-6.
std::vector<HeldShape> held_shapes(const Piece& piece, const std::vector<Zone>& zones,
                                   std::span<const std::vector<ZoneStrain>> strains, int threads);

/// The same of boards that bend by their rings alone (ring_cup.hpp), one answer a k: each board, and the skin that is left
/// of it, wants to bend as a glued panel of such boards would, 2 k (phi - sin phi cos phi) / w. The scallop that each adds of
/// its own is not in it. `boards` one for each of board_strips().
std::vector<HeldShape> held_rings(const Piece& piece, std::span<const RingBoard> boards,
                                  std::span<const double> k, int threads);

} // namespace hollowtop
