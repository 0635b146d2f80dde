// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the seasons leave of a top's bow where it stands: on its supports, under its own weight, over its bars.
///
///      free      .-''''''-.          held    _.------._      the bar bends too, and the screws that stop the
///               /          \                =|==|==|==|=     top from leaving it are pulled
///
/// The free strains of the zones are a load on the same contact problem as any other: supports and bars that press or
/// let go, screws that pull, slots with their play (docs/method.md, "What holds the top"). What the weight alone does
/// is taken off the shape. N, mm. Limits: no friction, no creep; slots as long as the check takes them.

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
    double greatest_shear = 0; ///< of a screw along or across its stiffener, N
    std::string sheared;
    std::vector<std::string> lets_go; ///< supports that press under the weight alone and no more
};

/// One answer a set of strains; the strains of each set in the order of the zones. Throws Error(not_computable) where
/// the supports do not hold the top under its own weight, or residuals are above 1e-6.
std::vector<HeldShape> held_shapes(const Piece& piece, const std::vector<Zone>& zones,
                                   std::span<const std::vector<ZoneStrain>> strains, int threads);

} // namespace hollowtop
