// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a recess leaves of the top's thickness. mm.

#include "solver/piece/piece.hpp"

namespace hollowtop {

/// Thickness of the wood over the floor of a recess; the mean of an uneven one.
inline double skin_of(const Recess& recess, const Top& top) { return top.thickness - recess.depth; }
/// The depth that leaves such a skin.
inline double depth_for_skin(double skin, const Top& top) { return top.thickness - skin; }

/// The grid's thickness at a place: bilinear, and beyond the grid that of its nearest edge.
double thickness_in(const SkinGrid& grid, Point at);

/// The thinnest and the thickest of a recess's skin: both skin_of() where it is even.
struct SkinRange {
    double thinnest = 0, thickest = 0;
};
SkinRange skin_range(const Recess& recess, const Top& top);

/// Gives the recess that skin, and the depth of `mean`. A skin that is the same all over is drawn as such.
void give_skin(Recess& recess, const Top& top, SkinGrid grid, double mean);

/// Makes the wood outside the recesses so thick, and leaves each skin what it is: depths follow. `mean` as above.
void give_thickness(Piece& piece, SkinGrid grid, double mean);

} // namespace hollowtop
