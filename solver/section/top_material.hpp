// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a top that may be no solid wood is made of.

#include "materials/wood_constants.hpp"
#include "solver/piece/piece.hpp"

#include <optional>
#include <vector>

namespace hollowtop {

/// As stated, or those of its sheet. Empty for a wood.
std::optional<Elastic> stated_elastic(const Top& top);

/// The nine constants of a top of solid wood: of its boards' mean modulus, by width, where they were measured
/// one by one. The only way to the constants of the top's wood.
materials::WoodConstants wood_constants_of(const Top& top);

/// Boards of unlike stiffness glued side by side. All moduli of a board follow the one along its grain.
struct BoardShares {
    Point across{};            ///< as across_boards()
    std::vector<double> lines; ///< the glue lines between unlike boards, along `across`; empty: all are alike
    std::vector<int> kind;     ///< of each strip between them; boards that are alike share one
    std::vector<double> share; ///< of each kind: its stiffness over that of wood_constants_of()
};
BoardShares board_shares_of(const Top& top);

/// k_def of the top: of its sheet, else of solid timber.
materials::Sourced creep_of(const Piece& piece);

} // namespace hollowtop
