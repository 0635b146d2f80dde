// SPDX-License-Identifier: MIT
#pragma once
/// \file  Weight against sag of every variant, as a picture. What meets the limits is a full dot, what does
/// not an open ring: shape tells them apart, not colour alone. A stepped line joins those that no other
/// beats; some of them are numbered.

#include "solver/piece/piece.hpp"
#include "solver/variants/tally.hpp"

#include <string>

namespace hollowtop::cli {

struct ChartSize {
    double width = 760, height = 520;
};

/// A file of its own. `title` is that of the piece.
std::string compare_chart(const Tally& tally, const std::string& title, Units units,
                          const ChartSize& size = {});

} // namespace hollowtop::cli
