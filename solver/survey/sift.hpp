// SPDX-License-Identifier: MIT
#pragma once
/// \file  Which readings can be used, and for which field; the others are named with the reason. mm.

#include "solver/mesh/thickness_field.hpp"
#include "solver/survey/kriging.hpp"
#include "solver/survey/reading.hpp"

#include <span>
#include <vector>

namespace hollowtop {

struct Sifted {
    std::vector<std::vector<Observed>> of_region; ///< [0] the rim and the lands, [r + 1] recess r
    std::vector<NamedReading> named;
    std::size_t n_used = 0;
};

/// Throws Error(input) where the readings as a whole cannot be of this piece, and where one would be what is drawn, or what
/// its neighbours say, in another unit. `field` without walls' zones. Left out and named: what lies off the top or within
/// the gauge's foot of a wall, what is not above nothing, what is thicker than the board. Repeated points become their
/// mean, and are named where they differ by more than the gauge's error explains. A reading more than four standard
/// deviations from what the others foretell is named; it is left out where it is thicker, which would flatter, and kept
/// where it is thinner.
Sifted sift(const Piece& piece, const ThicknessField& field, std::span<const Reading> readings,
            const SurveyOptions& options);

bool is_clear_of_walls(const Loop& loop, Point at, double foot);

} // namespace hollowtop
