// SPDX-License-Identifier: MIT
#include "solver/piece/moisture_range.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/moisture.hpp"

#include <string>
#include <utility>

namespace hollowtop {
namespace {

double percent_in(const Air& air, const std::string& place) {
    if (!(air.humidity_percent > 0 && air.humidity_percent < 100))
        throw Error(ErrorKind::input, {.place = place + ".humidity",
                                       .what = materials::digits(air.humidity_percent) +
                                               " % is no air that wood comes to rest in",
                                       .remedy = "give more than 0 and less than 100"});
    return materials::equilibrium_moisture_percent(air.temperature_C, air.humidity_percent);
}

} // namespace

MoistureRange moisture_range(const Piece& piece) {
    MoistureRange m;
    const bool low = piece.climate && piece.climate->low, high = piece.climate && piece.climate->high;
    m.dry_is_usual = !low;
    m.wet_is_usual = !high;
    m.dry_air = low ? *piece.climate->low : usual_dry_air;
    m.wet_air = high ? *piece.climate->high : usual_wet_air;
    if (piece.climate)
        for (const Air& air : piece.climate->months) { // then neither low nor high is given
            const double percent = percent_in(air, "climate.months");
            if (m.dry_is_usual || percent < percent_in(m.dry_air, "climate.months")) m.dry_air = air;
            if (m.wet_is_usual || percent > percent_in(m.wet_air, "climate.months")) m.wet_air = air;
            m.dry_is_usual = m.wet_is_usual = false;
        }
    m.dry_percent = percent_in(m.dry_air, "climate.low");
    m.wet_percent = percent_in(m.wet_air, "climate.high");
    if (m.dry_percent > m.wet_percent) { // named the other way round, or one of them taken
        std::swap(m.dry_air, m.wet_air);
        std::swap(m.dry_percent, m.wet_percent);
        std::swap(m.dry_is_usual, m.wet_is_usual);
    }
    m.made_percent = piece.top.moisture_percent;
    return m;
}

} // namespace hollowtop
