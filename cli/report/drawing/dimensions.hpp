// SPDX-License-Identifier: MIT
#pragma once
/// \file  Dimension lines: along the lower edge of a plan and at its left, a chain of parts and the whole
/// beyond it.

#include "cli/report/drawing/placer.hpp"
#include "cli/report/drawing/plan_view.hpp"

#include <vector>

namespace hollowtop::cli {

struct DimensionStyle {
    double size = 11; ///< of the figures
    Units units = Units::mm;
};

/// `xs`, `ys`: places (mm) between which is measured, in any order; the first and the last make the whole.
void dimension_chains(Svg& svg, Placer& placer, const View& view, std::vector<double> xs,
                      std::vector<double> ys, const DimensionStyle& style);

/// One line between two places at the same height, its ends ticked, the figure on it or, where it has no
/// room, beside it.
void dimension_across(Svg& svg, Placer& placer, double x0, double x1, double y, const std::string& figure,
                      double size);
/// The same between two places above one another; the figure reads from the right.
void dimension_upright(Svg& svg, Placer& placer, double y0, double y1, double x, const std::string& figure,
                       double size);

} // namespace hollowtop::cli
