// SPDX-License-Identifier: MIT
#pragma once
/// \file  What every check is handed.

#include "materials/strength.hpp"
#include "solver/piece/piece.hpp"
#include "solver/readout/worst_stress.hpp"
#include "solver/result/response.hpp"
#include "solver/result/result.hpp"
#include "solver/section/section_stiffness.hpp"

#include <optional>

namespace hollowtop {

class ScrewUses;

/// What every check is handed. `allowables` is empty for a top of stated elastic constants: no strength is
/// known then.
struct CheckInput {
    const Piece& piece;
    const Response& response;
    const SituationResponse& situation; ///< on a strength class, for checks of strength, a design situation
    PlaneStiffness plane;               ///< of the piece
    /// For this situation's duration and purpose; of whoever asks, for its sentences are long to copy.
    const std::optional<materials::AllowableStresses>& allowables;
    bool briefly = false;            ///< what costs time and is only told is left out
    ScrewUses* screw_uses = nullptr; ///< of the piece, kept from check to check; may be missing
};

} // namespace hollowtop
