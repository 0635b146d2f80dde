// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the wood of a bar bears, on the piece's own basis, and what is not judged of stiffeners and
/// why.

#include "materials/message.hpp"
#include "solver/capacity/allowables.hpp"
#include "solver/result/response.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

/// Allowable stresses of a wooden bar in a situation, MPa. Empty for other bars, and on a strength class for
/// another wood than the top's: the class is stated for the top alone. `of_top` are the top's in that situation.
/// Throws Error(input) as handbook_allowables.
std::optional<materials::AllowableStresses>
strengths_of_bar(const Piece& piece, const SituationResponse& situation,
                 const std::optional<materials::AllowableStresses>& of_top, const Stiffener& stiffener);

/// Why the stress of a stiffener is not judged; empty where it is.
Message why_not_judged(const Piece& piece, const Stiffener& stiffener);

/// A sentence for each stiffener, and each stiffener's screws, of which something is not judged.
std::vector<Message> not_judged_of_bars(const Piece& piece, const Response& response);

} // namespace hollowtop
