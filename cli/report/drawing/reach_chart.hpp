// SPDX-License-Identifier: MIT
#pragma once
/// \file  How hard each check is used as a measure grows: one line a check, told apart by dashes and by names
/// at their ends, with the limit as a heavy line and the answer marked.

#include "solver/piece/piece.hpp"
#include "solver/variants/deepest.hpp"

#include <string>

namespace hollowtop::cli {

struct ReachStory {
    std::string title;   ///< of the piece
    std::string measure; ///< "depth", "rim"
    std::function<double(double)>
        shown; ///< what is shown for a measure: the depth itself, or the rim that is left; mm
};

std::string reach_chart(const Farthest& answer, const ReachStory& story, Units units);

} // namespace hollowtop::cli
