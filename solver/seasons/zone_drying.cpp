// SPDX-License-Identifier: MIT
#include "solver/seasons/zone_drying.hpp"

#include "materials/finish.hpp"

#include <cstddef>

namespace hollowtop {
namespace {

/// A step into other air is steepest at first: so many parts a day.
int parts_of(int day) {
    if (day == 0) return 24;
    if (day < 4) return 8;
    return day < 12 ? 4 : 1;
}

} // namespace

std::vector<DryingLine> lines_of(const std::vector<Zone>& zones, const FaceFinishes& finish,
                                 const Drinking& how) {
    const materials::Diffusion& diffusion = materials::diffusion_across();
    const auto exchange = [&](const std::string& id) {
        return how.exchange * materials::find_finish(id).exchange_mm_s.value;
    };
    std::vector<DryingLine> lines;
    for (const Zone& zone : zones)
        lines.push_back({.thickness = zone.thickness,
                         .S_above = exchange(finish.above),
                         .S_below = exchange(zone.is_full ? finish.below : finish.recess),
                         .D_at_12 = how.diffusion * diffusion.at_12_mm2_s.value,
                         .D_growth_per_percent = diffusion.growth_per_percent.value});
    return lines;
}

ZoneDays dry_zones(const std::vector<DryingLine>& lines, const RoomAir& air, int month, double start_percent,
                   int n_days, bool keep_profiles) {
    std::vector<MoistureProfile> now;
    for (const DryingLine& line : lines) now.push_back(even_profile(line.thickness, start_percent));
    const RestMoisture rest = air_over_both([&](double time) { return air.rest_percent(time); });
    ZoneDays years;
    const double start = first_day_of(month) * seconds_per_day;
    for (int day = 0; day < n_days; ++day) {
        const int parts = parts_of(day);
        const double step = seconds_per_day / parts, morning = start + day * seconds_per_day;
        ZoneDay evening{.air_percent = air.rest_percent(morning + seconds_per_day), .straight = {}};
        for (std::size_t zone = 0; zone < lines.size(); ++zone) {
            for (int part = 0; part < parts; ++part)
                dry(lines[zone], now[zone], rest, morning + part * step, step);
            evening.straight.push_back(straight_part(now[zone]));
        }
        years.days.push_back(std::move(evening));
        if (keep_profiles) years.profiles.push_back(now);
    }
    return years;
}

} // namespace hollowtop
