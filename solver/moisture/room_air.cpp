// SPDX-License-Identifier: MIT
#include "solver/moisture/room_air.hpp"

#include "materials/error.hpp"
#include "materials/moisture.hpp"
#include "solver/piece/moisture_range.hpp"

#include <cmath>
#include <cstddef>
#include <numbers>

namespace hollowtop {
namespace {

constexpr std::array<int, 13> firsts{0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365};

Air between(const Air& a, const Air& b, double share) {
    return {.temperature_C = a.temperature_C + share * (b.temperature_C - a.temperature_C),
            .humidity_percent = a.humidity_percent + share * (b.humidity_percent - a.humidity_percent)};
}

double middle_of(int month) { // days; month 0 is December before, 13 January after
    if (month < 1) return middle_of(month + 12) - days_per_year;
    if (month > 12) return middle_of(month - 12) + days_per_year;
    return (firsts[static_cast<std::size_t>(month - 1)] + firsts[static_cast<std::size_t>(month)]) / 2.0;
}

} // namespace

int first_day_of(int month) { return firsts[static_cast<std::size_t>(month - 1)]; }

int month_of(int day) {
    const int in_year = ((day % days_per_year) + days_per_year) % days_per_year;
    int month = 1;
    while (in_year >= firsts[static_cast<std::size_t>(month)]) ++month;
    return month;
}

RoomAir::RoomAir(const Piece& piece) {
    const MoistureRange range = moisture_range(piece);
    dry_ = range.dry_air;
    damp_ = range.wet_air;
    if (piece.climate) months_ = piece.climate->months;
}

Air RoomAir::at(double time) const {
    const double days = time / seconds_per_day;
    if (months_.empty()) {
        const double driest = middle_of(1);
        const double share = 0.5 - 0.5 * std::cos(2 * std::numbers::pi * (days - driest) / days_per_year);
        return between(dry_, damp_, share);
    }
    const double in_year = days - days_per_year * std::floor(days / days_per_year);
    int month = month_of(static_cast<int>(in_year));
    if (in_year < middle_of(month)) --month;
    const double low = middle_of(month), high = middle_of(month + 1);
    const auto air_of = [&](int m) { return months_[static_cast<std::size_t>((m + 11) % 12)]; };
    return between(air_of(month), air_of(month + 1), (in_year - low) / (high - low));
}

double RoomAir::rest_percent(double time) const {
    const Air air = at(time);
    return materials::equilibrium_moisture_percent(air.temperature_C, air.humidity_percent);
}

double moves_in_at_percent(const Piece& piece) {
    if (!piece.climate || !piece.climate->shop) return piece.top.moisture_percent;
    const Air& shop = *piece.climate->shop;
    if (!(shop.humidity_percent > 0 && shop.humidity_percent < 100))
        throw Error(ErrorKind::input, {.place = "climate.shop.humidity",
                                       .what = "this is no air that wood comes to rest in",
                                       .remedy = "give more than 0 and less than 100"});
    return materials::equilibrium_moisture_percent(shop.temperature_C, shop.humidity_percent);
}

int moves_in_month(const Piece& piece) {
    constexpr int november = 11;
    return piece.climate && piece.climate->move_in > 0 ? piece.climate->move_in : november;
}

} // namespace hollowtop
