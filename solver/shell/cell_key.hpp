// SPDX-License-Identifier: MIT
#pragma once
/// \file  Which cells share an element matrix.

#include "solver/mesh/mesh.hpp"

#include <cmath>
#include <compare>

namespace hollowtop {

/// Cells of one size over sections alike share their element matrix; sizes are told apart to a millionth of a
/// millimetre.
struct CellKey {
    long long dx, dy;
    int section;
    auto operator<=>(const CellKey&) const = default;
};
inline CellKey key_of(const Cell& cell, int section) {
    return {std::llround((cell.x1 - cell.x0) * 1e6), std::llround((cell.y1 - cell.y0) * 1e6), section};
}

} // namespace hollowtop
