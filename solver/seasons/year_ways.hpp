// SPDX-License-Identifier: MIT
#pragma once
/// \file  Ways to finish a top and to move in, each gone through day by day to its worst days: as it is meant, with
/// coefficients twice or half as great, and others that may help. mm; moisture in percent; days from moving in.

#include "materials/message.hpp"
#include "solver/moisture/room_air.hpp"
#include "solver/seasons/zone_drying.hpp"
#include "solver/seasons/zone_fields.hpp"

#include <cmath>
#include <cstddef>
#include <vector>

namespace hollowtop {

/// The worst of a span of time: how much, on which day, and the days on which it is within a twentieth of that.
struct WorstDay {
    double value = 0;
    int day = 0, from = 0, to = 0;
};

/// The greatest lead of a skin, the greatest bow and departure from flat, of one year.
struct WorstOfYear {
    WorstDay lead; ///< points by which the thinnest skin is drier (+) or wetter (-) than the full thickness
    WorstDay rise_across; ///< mm, crown +
    WorstDay out_of_flat; ///< mm
};

struct Otherwise {
    Message what;
    WorstOfYear first;
};

/// What does not change from one way of finishing and moving in to the next.
struct Setting {
    const Piece& piece;
    const ZoneFields& fields;
    const RoomAir& air;
    double movement = 0; ///< across, a point
    std::size_t thinnest = 0;
};

/// A way to finish it and to move in.
struct Way {
    FaceFinishes finish;
    int month = 11;
    double start_percent = 0;
    Drinking drinking{};
};

std::size_t thinnest_of(const std::vector<Zone>& zones);
std::vector<ZoneStrain> strains_on(const Setting& s, const Way& way, const ZoneDay& day);
WorstOfYear worst_of_days(const Setting& s, const Way& way, const ZoneDays& days, int from, int to);

/// Coefficients doubled and halved, one at a time.
std::vector<Otherwise> doubled_ways(const Setting& s, const Way& way);
/// Those that take a tenth or more off `out_of_flat`, the first year's of `way`; best first.
std::vector<Otherwise> helpful_ways(const Setting& s, const Way& way, double out_of_flat, int threads);

/// The greatest in size of days [from, to), and the days round it that come within a twentieth.
template <class ValueOf> WorstDay worst_of(int from, int to, ValueOf value_of) {
    WorstDay worst{.value = value_of(from), .day = from, .from = from, .to = from};
    for (int day = from; day < to; ++day)
        if (std::abs(value_of(day)) > std::abs(worst.value) + 1e-12) {
            worst.value = value_of(day);
            worst.day = day;
        }
    constexpr double nearly = 0.95;
    const auto is_near = [&](int day) { return value_of(day) / worst.value > nearly; };
    worst.from = worst.to = worst.day;
    if (worst.value == 0) return worst;
    while (worst.from > from && is_near(worst.from - 1)) --worst.from;
    while (worst.to + 1 < to && is_near(worst.to + 1)) ++worst.to;
    return worst;
}

} // namespace hollowtop
