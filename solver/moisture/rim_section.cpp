// SPDX-License-Identifier: MIT
#include "solver/moisture/rim_section.hpp"

#include <cstddef>

namespace hollowtop {
namespace {

void across_width(const RimSection& rim, SectionMoisture& moisture, const RestMoisture& rest, double from,
                  double step) {
    const DryingLine line{.thickness = rim.width,
                          .S_above = rim.S_outer,
                          .S_below = rim.S_wall,
                          .D_at_12 = rim.width_factor * rim.D_at_12,
                          .D_growth_per_percent = rim.D_growth_per_percent};
    MoistureProfile profile{.width = moisture.width, .percent = std::vector<double>(moisture.width.size())};
    for (std::size_t k = 0; k < moisture.depth.size(); ++k) {
        for (std::size_t i = 0; i < moisture.width.size(); ++i) profile.percent[i] = moisture.percent[i][k];
        dry(line, profile, rest, from, step);
        for (std::size_t i = 0; i < moisture.width.size(); ++i) moisture.percent[i][k] = profile.percent[i];
    }
}

void through_depth(const RimSection& rim, SectionMoisture& moisture, const RestMoisture& rest, double from,
                   double step) {
    const DryingLine line{.thickness = rim.depth,
                          .S_above = rim.S_above,
                          .S_below = rim.S_below,
                          .D_at_12 = rim.D_at_12,
                          .D_growth_per_percent = rim.D_growth_per_percent};
    MoistureProfile profile{.width = moisture.depth, .percent = {}};
    for (std::vector<double>& column : moisture.percent) {
        profile.percent.swap(column);
        dry(line, profile, rest, from, step);
        profile.percent.swap(column);
    }
}

} // namespace

double SectionMoisture::mean() const {
    double sum = 0, area = 0;
    for (std::size_t i = 0; i < width.size(); ++i)
        for (std::size_t k = 0; k < depth.size(); ++k) {
            sum += width[i] * depth[k] * percent[i][k];
            area += width[i] * depth[k];
        }
    return sum / area;
}

SectionMoisture even_section(const RimSection& rim, double percent, int cells) {
    SectionMoisture moisture{.width = even_profile(rim.width, percent, cells).width,
                             .depth = even_profile(rim.depth, percent, cells).width,
                             .percent = {}};
    moisture.percent.assign(moisture.width.size(), std::vector<double>(moisture.depth.size(), percent));
    return moisture;
}

void dry_section(const RimSection& rim, SectionMoisture& moisture, const RestMoisture& rest, double from,
                 double step) {
    across_width(rim, moisture, rest, from, step / 2);
    through_depth(rim, moisture, rest, from, step);
    across_width(rim, moisture, rest, from + step / 2, step / 2);
}

} // namespace hollowtop
