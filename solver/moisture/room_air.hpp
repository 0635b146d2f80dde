// SPDX-License-Identifier: MIT
#pragma once
/// \file  The air round a piece over the year, and what wood in it comes to.
///
/// Where twelve months are given: straight between their middles, year after year. Else a sine between the two
/// seasons, driest in the middle of January and dampest half a year later (common practice for a heated room of the
/// northern half of the world). Moisture of wood at rest: Wood Handbook Eq. 4-5. Time in s from the first of January;
/// percent.

#include "solver/piece/piece.hpp"

#include <array>
#include <string_view>
#include <vector>

namespace hollowtop {

inline constexpr double seconds_per_day = 86400;
inline constexpr int days_per_year = 365;
inline constexpr std::array<std::string_view, 12> month_words{
    "january", "february", "march",     "april",   "may",      "june",
    "july",    "august",   "september", "october", "november", "december"};

/// Days from the first of January to the first of that month, 1 to 13.
int first_day_of(int month);
/// The month of a day counted from the first of January, 1 to 12.
int month_of(int day);

class RoomAir {
  public:
    /// Throws Error(input) where the air is impossible.
    explicit RoomAir(const Piece& piece);
    Air at(double time) const;
    double rest_percent(double time) const;
    bool is_stated_by_month() const { return !months_.empty(); }

  private:
    Air dry_{}, damp_{};
    std::vector<Air> months_;
};

/// The moisture of the wood when it moves in: at rest in the air of the shop, else as it is made.
double moves_in_at_percent(const Piece& piece);
/// The month in which it does; November where the piece does not say (judgement: the heating comes on).
int moves_in_month(const Piece& piece);

} // namespace hollowtop
