// SPDX-License-Identifier: MIT
#include "solver/seasons/rim_lead.hpp"

#include "materials/finish.hpp"
#include "solver/moisture/rim_section.hpp"
#include "solver/piece/kept_region.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hollowtop {
namespace {

/// The narrowest rims beside a recess: those that run along the grain, and those across it.
struct RimWidths {
    double along = 0, across = 0;
};

std::optional<RimWidths> rim_widths(const Piece& piece) {
    if (!std::holds_alternative<RectangleShape>(piece.top.outline)) return std::nullopt;
    const double turn = std::remainder(piece.top.grain_deg, 180.0);
    constexpr double askew = 1e-6;
    const bool along_x = std::abs(turn) < askew;
    if (!along_x && std::abs(std::abs(turn) - 90) > askew) return std::nullopt;
    double x = std::numeric_limits<double>::infinity(), y = x;
    for (const Recess& recess : piece.recesses) {
        if (std::holds_alternative<PolygonShape>(recess.shape)) return std::nullopt;
        const Rectangle box = bounds_of(trace_of(recess, piece.top.outline));
        x = std::min({x, box.x0, piece.top.length - box.x1});
        y = std::min({y, box.y0, piece.top.width - box.y1});
    }
    constexpr double least = 5; // mm: less is no rim
    if (piece.recesses.empty() || !(x > least) || !(y > least)) return std::nullopt;
    return along_x ? RimWidths{.along = y, .across = x} : RimWidths{.along = x, .across = y};
}

/// Greatest lead of the skin over the section's mean, which is told day by day.
double lead_over(const RimSection& rim, const RoomAir& air, int month, double start_percent,
                 const ZoneDays& days, std::size_t zone, std::vector<double>* means) {
    SectionMoisture moisture = even_section(rim, start_percent);
    const RestMoisture rest = air_over_both([&](double time) { return air.rest_percent(time); });
    const double start = first_day_of(month) * seconds_per_day;
    double most = 0;
    for (int day = 0; day < std::min(days_per_year, static_cast<int>(days.days.size())); ++day) {
        const int parts = day == 0 ? 8 : day < 8 ? 2 : 1;
        const double step = seconds_per_day / parts;
        for (int part = 0; part < parts; ++part)
            dry_section(rim, moisture, rest, start + day * seconds_per_day + part * step, step);
        if (means != nullptr) means->push_back(moisture.mean());
        const double lead = moisture.mean() - days.days[static_cast<std::size_t>(day)].straight[zone].mean;
        if (std::abs(lead) > std::abs(most)) most = lead;
    }
    return most;
}

} // namespace

std::optional<RimLead> rim_lead(const Piece& piece, const FaceFinishes& finish, const RoomAir& air, int month,
                                double start_percent, const ZoneDays& days, std::size_t zone) {
    const auto widths = rim_widths(piece);
    if (!widths) return std::nullopt;
    const materials::Diffusion& diffusion = materials::diffusion_across();
    const auto exchange = [](const std::string& id) {
        return materials::find_finish(id).exchange_mm_s.value;
    };
    RimSection rim{.width = widths->along,
                   .depth = piece.top.thickness,
                   .S_above = exchange(finish.above),
                   .S_below = exchange(finish.below),
                   .S_outer = exchange(finish.above),
                   .S_wall = exchange(finish.recess),
                   .D_at_12 = diffusion.at_12_mm2_s.value,
                   .D_growth_per_percent = diffusion.growth_per_percent.value};
    RimLead lead;
    lead.sides = lead_over(rim, air, month, start_percent, days, zone, &lead.rim_percent);
    rim.width = widths->across;
    rim.width_factor = materials::diffusion_along().value;
    lead.ends = lead_over(rim, air, month, start_percent, days, zone, nullptr);
    return lead;
}

} // namespace hollowtop
