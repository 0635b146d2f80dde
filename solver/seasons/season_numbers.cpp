// SPDX-License-Identifier: MIT
#include "solver/seasons/season_numbers.hpp"

#include "solver/seasons/year_of_top.hpp"

#include <algorithm>

namespace hollowtop {

SeasonNumbers season_numbers(const Piece& piece, int threads) {
    const YearOfTop year = year_of_top(piece, {.threads = threads, .briefly = true});
    SeasonNumbers numbers{.free_mm = std::max(year.first.out_of_flat.value, year.second.out_of_flat.value),
                          .tension_MPa = year.tension.greatest.value};
    if (year.standing)
        numbers.held_mm =
            std::max(year.standing->worst.shape.out_of_flat, year.standing->moved.shape.out_of_flat);
    if (year.rings && year.rings->are_known)
        numbers.boards_mm = std::max(year.rings->dry.wave, year.rings->damp.wave);
    return numbers;
}

} // namespace hollowtop
