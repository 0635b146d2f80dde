// SPDX-License-Identifier: MIT
#pragma once
/// \file  Every zone of a top drying and wetting side by side through its first years, day by day. mm, s, percent.

#include "solver/moisture/drying.hpp"
#include "solver/moisture/room_air.hpp"
#include "solver/seasons/zone_fields.hpp"

#include <vector>

namespace hollowtop {

/// Coefficients by which diffusion and exchange differ from the tables': 1 as they are.
struct Drinking {
    double diffusion = 1, exchange = 1;
};

/// One line for each zone, with the finish of its faces.
std::vector<DryingLine> lines_of(const std::vector<Zone>& zones, const FaceFinishes& finish,
                                 const Drinking& how);

/// The end of a day.
struct ZoneDay {
    double air_percent = 0;
    std::vector<StraightPart> straight; ///< of each zone
};

struct ZoneDays {
    std::vector<ZoneDay> days;
    /// [day][zone]; none where not wanted.
    std::vector<std::vector<MoistureProfile>> profiles;
};

/// From the first of `month`, all wood even at `start_percent`. The first days are taken in parts of a day.
ZoneDays dry_zones(const std::vector<DryingLine>& lines, const RoomAir& air, int month, double start_percent,
                   int n_days, bool keep_profiles);

} // namespace hollowtop
