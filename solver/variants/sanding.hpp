// SPDX-License-Identifier: MIT
#pragma once
/// \file  How often a top can be sanded down and finished anew: the whole check with its show face lower. The recesses
/// keep their depth, so that all of it comes off the skin. mm.

#include "solver/check/check_options.hpp"

#include <array>
#include <optional>
#include <vector>

namespace hollowtop {

/// So much taken off the show face, one after another.
inline constexpr std::array<double, 3> sanding_steps{0.5, 1, 2};

struct Sanded {
    double off = 0;
    std::optional<bool> passes{}; ///< none where there is no such top, or it could not be computed
    std::string check{};          ///< that governs
    double utilisation = 0;       ///< of it
    Message problem{};            ///< why not
};

/// The piece with its show face that much lower.
Piece sanded(Piece piece, double off);

std::vector<Sanded> sanding_reserve(const Piece& piece, int threads);

} // namespace hollowtop
