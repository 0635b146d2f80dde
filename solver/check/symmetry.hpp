// SPDX-License-Identifier: MIT
#pragma once
/// \file  Whether a top with what lies on it is its own mirror image: a load that travels then need be set down on
/// one side only.

#include "solver/piece/piece.hpp"

namespace hollowtop {

struct Symmetry {
    bool x = false; ///< left and right, about length / 2
    bool y = false; ///< front and back, about width / 2
    bool operator==(const Symmetry&) const = default;
};

/// Of the top, its recesses, stiffeners, supports, and the loads that stay. A yes is sure; of what is not looked
/// into (polygons, what recesses hold, grain that runs aslant) it is no.
Symmetry symmetry_of(const Piece& piece);

/// That the load may be set down in mirrored places, too: it is alike itself, and so is what it travels over.
Symmetry symmetry_of(const Load& load, const Top& top);

} // namespace hollowtop
