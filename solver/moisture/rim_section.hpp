// SPDX-License-Identifier: MIT
#pragma once
/// \file  Moisture over the section of a rim, which dries through its edge and the wall of the recess as well.
///
///              show face, S_above
///            +--------------------+
///     edge,  |  along depth: D    |  wall of the recess, S_wall
///   S_outer  |  along width:      |
///            |  D x width_factor  |      width_factor: how much quicker moisture goes along the grain, at an end
///            +--------------------+
///             underside, S_below
///
/// One line of cells after another by drying.hpp, half a step across the width, a step through the depth, half a step
/// across the width (Strang, SIAM J. Numer. Anal. 5, 1968): where D does not depend on moisture the two commute, and
/// the section is the product of two sheets. mm, s, percent. Limits: a straight rim, far from its corners; the skin that
/// joins it at the wall is not in it.

#include "solver/moisture/drying.hpp"

namespace hollowtop {

struct RimSection {
    double width = 0, depth = 0;
    double S_above = 0, S_below = 0, S_outer = 0, S_wall = 0;
    double D_at_12 = 0, D_growth_per_percent = 0;
    double width_factor = 1;
};

/// Means of the cells: `percent[i][k]`, i across the width from the edge, k from the show face down.
struct SectionMoisture {
    std::vector<double> width, depth; ///< of the cells
    std::vector<std::vector<double>> percent;
    double mean() const;
};

inline constexpr int section_cells = 24;
SectionMoisture even_section(const RimSection& rim, double percent, int cells = section_cells);

/// One step; the same air on all four sides. Throws as dry() does.
void dry_section(const RimSection& rim, SectionMoisture& moisture, const RestMoisture& rest, double from,
                 double step);

} // namespace hollowtop
