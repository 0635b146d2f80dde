// SPDX-License-Identifier: MIT
#pragma once
/// \file  How far the top may move: the limits of the piece in mm, and from which span they came.

#include "materials/message.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/response.hpp"

#include <optional>
#include <string>

namespace hollowtop {

struct SagLimit {
    double limit_mm = 0;
    double span_mm = 0; ///< the span, or twice the overhang, that set it
    bool overhang_governs =
        false; ///< the sag is past the outermost supports, and their rule gives the greater limit
    Message basis;
};

/// Limit of the sag in a situation: `sag_years` after the years, `sag` otherwise. A share of the span is span
/// / N; past the supports it is the overhang / (N / 2), if that is greater. Throws Error(input) where a share
/// is asked for and nothing holds the top up.
SagLimit sag_limit(const Piece& piece, const SituationResponse& situation);

/// How far the show face may be from a straightedge, at once or after the years; empty where the stated use
/// asks for no flat top.
struct FlatnessLimit {
    double limit_mm = 0;
    Message basis;
};
std::optional<FlatnessLimit> flatness_limit(const Limits& limits, Stage stage);

/// Without a stated limit, mm.
inline constexpr double flat_at_once_mm = 1, flat_after_years_mm = 2;

/// The smallest rectangle square to the top that holds every support: pads by their centres, lines by their
/// ends.
std::optional<Rectangle> box_of_supports(const Piece& piece);

} // namespace hollowtop
