// SPDX-License-Identifier: MIT
#pragma once
/// \file  How far the top may move: the limits of the piece in mm, and from which span they came.

#include "solver/analysis/response.hpp"
#include "solver/piece/piece.hpp"

#include <string>

namespace hollowtop {

struct SagLimit {
    double limit_mm = 0;
    double span_mm = 0; ///< the span, or twice the overhang, that set it
    bool overhang_governs =
        false; ///< the sag is past the outermost supports, and their rule gives the greater limit
    std::string basis;
};

/// Limit of the sag in a situation: `sag_years` after the years, `sag` otherwise. A share of the span is span / N; where the
/// sag lies past the outermost supports it is the overhang / (N / 2), if that is greater. Throws Error(input) where a share is
/// asked for and neither span nor overhang is there.
SagLimit sag_limit(const Piece& piece, const Response& response, const SituationResponse& situation);

/// Limit of the dish, before the small-movement bound of half the skin.
double dish_limit_mm(const Piece& piece, const Response& response);

/// The smallest rectangle square to the top that holds every support: pads by their centres, lines by their ends.
std::optional<Rectangle> box_of_supports(const Piece& piece);

} // namespace hollowtop
