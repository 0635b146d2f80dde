// SPDX-License-Identifier: MIT
#pragma once
/// \file  What one variant comes to, in the few numbers that variants are compared by.

#include "materials/message.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

/// Prices in any one currency. Of the stiffeners: by length, by weight, or both; and of each screw.
struct Prices {
    std::optional<double> a_metre, a_kilo, a_screw;
    bool any() const { return a_metre || a_kilo || a_screw; }
};

struct StudyRow {
    bool passes = false;
    std::string governing_check;
    Message governing_situation;
    double utilisation = 0; ///< of the check that governs
    double mass_kg = 0;     ///< of top and stiffeners
    double stiffeners_kg = 0;
    double sag_mm = 0; ///< greatest at once, over the situations
    std::optional<double> sag_years_mm, dish_mm, frequency_Hz, cost;
    double sag_limit_mm = 0; ///< of the situation that sags most at once
    std::vector<double>
        uses; ///< utilisation of each check of table_of_checks() in its worst situation; -1 where it does not apply
    std::array<double, 2> season_uses{-1, -1}; ///< the same of table_of_season_rows(): advice
    double sag_error_percent = 0, stress_error_percent = 0;
};

StudyRow row_of(const Piece& piece, const Result& result, const Prices& prices);

} // namespace hollowtop
