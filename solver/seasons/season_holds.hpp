// SPDX-License-Identifier: MIT
#pragma once
/// \file  What of a piece holds its wood back across the grain through a season: read off the bars in closed form
/// (solver/seasons/restraint.hpp), so that a check may tell of it. N, mm, MPa. Advice: `movement` judges it.

#include "solver/piece/piece.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

/// A stiffener that holds the wood back across the grain, and what a season does there.
struct SeasonHold {
    std::string stiffener;
    Point at{};             ///< its middle
    bool glued = false;     ///< else screwed through round holes
    double tension_MPa = 0; ///< across the grain in the dry season, relaxed
    double tension_strength_MPa = 0;
    Message tension_basis{};
    double screw_N = 0; ///< greatest on one of its screws, at most what it bears; 0 where glued or not known
    std::optional<double> screw_bears_N{}; ///< as a check allows it for long; none where not known
    Message screw_basis{};
};

struct SeasonHolds {
    std::vector<SeasonHold> holds;   ///< bars in round holes or glued, more than ten degrees to the grain
    std::vector<Message> warnings{}; ///< oversize holes that are too narrow
};

/// Nothing for a sheet, stated constants, or a wood whose movement is not known.
SeasonHolds season_holds(const Piece& piece);

/// A sentence where slots as long as they are taken here (solver/piece/screw_holes.hpp) stop the wood: how far it goes, how
/// long they must be. Empty where none does, or as above.
Message told_of_short_slots(const Piece& piece);

/// How long slots of the stiffener are to be: what the seasons ask for, three screw diameters at least; whole mm.
double slot_length_for(const Piece& piece, const Stiffener& stiffener);

} // namespace hollowtop
