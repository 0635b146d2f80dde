// SPDX-License-Identifier: MIT
#pragma once
/// \file  A first piece for a size, a wood, a use and a base: supports where such a base has them, a rim
/// that they stand on, a recess as deep as the use lets it be with something to spare, and iron where the
/// wood alone does not do.
///
/// Proposals of ours, common practice where not said otherwise; mm. What is found is tried on coarse meshes
/// (`rough` of CheckOptions), a dozen at most: whoever hands the piece on checks it in full first.

#include "solver/check/check_options.hpp"
#include "solver/piece/piece.hpp"
#include "solver/variants/start_layout.hpp"

#include <optional>

namespace hollowtop {

/// The solid top on its base. Throws Error(input), with "base" as its place, where the base does not fit
/// under it.
Piece solid_start(const Wish& wish);

/// The greatest depth that is looked at: 55 % of the thickness (a third of a workbench, whose weight is
/// wanted), and a skin of 12 mm; 0 where that leaves less than 4 mm.
double deepest_sensible(const Wish& wish);

struct Start {
    Piece piece;
    bool solid_holds = false; ///< by the rough check, the solid top without iron
    double depth = 0;         ///< 0: left solid
    int iron = 0;             ///< 0 none; one angle, two, two heavier ones
    int n_checks = 0;
};

/// Looks for the depth, and for angles where the wood alone takes less than a sixth of the thickness.
Start start_of(const Wish& wish, const CheckOptions& options);

/// The same a fifth less deep; false where no depth is left to be given up: then it is solid.
bool step_back(const Wish& wish, Start& start);

/// What would carry that use where nothing of the above does: the least thickness of a solid top, up to 60
/// mm or twice what was asked, and another base under the same solid top; by the rough check, to be checked
/// in full.
struct Instead {
    std::optional<double> thickness{};
    std::optional<Base> base{};
};
Instead instead_of(const Wish& wish, const CheckOptions& options);

} // namespace hollowtop
