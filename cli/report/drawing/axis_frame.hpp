// SPDX-License-Identifier: MIT
#pragma once
/// \file  A frame with two number axes for a chart: round ticks, hairlines across, words outside.

#include "cli/report/drawing/svg.hpp"

#include <string>
#include <vector>

namespace hollowtop::cli {

struct NumberAxis {
    double low = 0, high = 1; ///< a range that holds every value
    std::string label;        ///< "weight, kg"
};

/// Round ticks (1, 2 or 5 times a power of ten) over the range, some `wanted` of them.
std::vector<double> round_ticks(double low, double high, int wanted);

class AxisFrame {
  public:
    /// The frame fills `box` of the drawing, y upwards. Draws axes, ticks and labels at once.
    AxisFrame(Svg& svg, const Box& box, NumberAxis across, NumberAxis upwards);
    Point at(double across, double upwards) const;
    const Box& box() const { return box_; }

  private:
    Box box_;
    NumberAxis across_, upwards_;
};

} // namespace hollowtop::cli
