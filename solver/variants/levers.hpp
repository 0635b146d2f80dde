// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a maker can change of a piece that fails, each by itself, in steps that go further and further.
///
/// Only what is sensible: no size changes by more than a third of the piece's, no load falls under a half, no
/// top grows thicker than twice what is drawn or 80 mm. mm.

#include "solver/variants/lever.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

/// All that the piece has something for. `failing`: names of the checks that fail, which say what is to be done
/// with screws.
std::vector<Lever> levers_of(const Piece& piece, const std::vector<std::string>& failing);

/// Both changes at once: step `k_first` of the first with each step of the second; where both rise, the steps of
/// both in proportion. Nothing where they are changes of one thing.
std::optional<Lever> together(const Lever& first, int k_first, const Lever& second);

/// The same top without its recesses and what they hold.
Piece solid_of(const Piece& piece);

} // namespace hollowtop
