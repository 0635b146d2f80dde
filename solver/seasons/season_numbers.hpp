// SPDX-License-Identifier: MIT
#pragma once
/// \file  A first year in the few numbers that variants are told by. Advice: it ranks nothing.

#include "solver/piece/piece.hpp"

#include <optional>

namespace hollowtop {

struct SeasonNumbers {
    double free_mm = 0;              ///< most out of flat in two years, lying free
    std::optional<double> held_mm{}; ///< most out of flat as it stands, on the two days that are solved
    std::optional<double>
        boards_mm{};        ///< highest above lowest by the rings of its boards alone, where each is known
    double tension_MPa = 0; ///< greatest across the grain, for comparing alone
};
/// Throws as year_of_top does.
SeasonNumbers season_numbers(const Piece& piece, int threads);

} // namespace hollowtop
