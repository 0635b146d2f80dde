// SPDX-License-Identifier: MIT
#pragma once
/// \file  The straight line through the readings of a bend test, and what of them does not lie on one.

#include <cstddef>
#include <optional>
#include <vector>

namespace hollowtop {

/// One step of a bend test, in the order it was made. What the gauge showed under no load is one as well.
struct LoadReading {
    double load_N = 0;
    double deflection_mm = 0;
};

/// A reading that the others do not agree with.
struct OffTheLine {
    std::size_t index = 0;
    double off_mm = 0;        ///< above the line of the others
    double slope_without = 0; ///< mm/N, of the line of the others
};

struct Line {
    double slope = 0;       ///< mm/N; above zero whichever way the gauge counts
    double offset_mm = 0;   ///< deflection at no load
    double slope_error = 0; ///< one standard deviation
    double scatter_mm = 0;  ///< of the readings about the line, n - 2 in the divisor; 0 where there are two
    bool scatters =
        false; ///< more than the gauge explains, 1 in 20 by chance: then `slope_error` is by the scatter
    bool counts_down = false;
    std::optional<OffTheLine> off{};
    /// Slope over the last of the range against the first, less 1, where it differs by more than chance and
    /// by 3 %.
    std::optional<double> curves{};
    /// Unloading against loading at the same loads, the mean gap, where it is more than the gauge explains.
    std::optional<double> gap_mm{};
};

/// Least squares with an offset, deflection on load: the gauge's error `gauge_mm` (one standard deviation of
/// a reading) is taken to be greater than the unevenness of the weights, whose common error stands
/// elsewhere. Source of the formulas: ordinary least squares; a reading is off where it lies more than 4
/// standard deviations (t of the others) from the line of the others. Throws Error(input) where there are
/// not two different loads, or where nothing moved.
Line line_through(const std::vector<LoadReading>& readings, double gauge_mm);

} // namespace hollowtop
