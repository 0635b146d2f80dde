// SPDX-License-Identifier: MIT
#include "solver/seasons/zone_fields.hpp"

#include "materials/error.hpp"
#include "solver/numeric/symmetric_eigen.hpp"
#include "solver/shell/movement_form.hpp"
#include "solver/shell/recovery.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>

namespace hollowtop {
namespace {

constexpr int n_lines = 11;
constexpr std::size_t n_samples = 21;
constexpr std::size_t most_zones = 20;

std::vector<Zone> zones_in(const ThicknessField& field) {
    std::vector<Zone> zones{{.thickness = thickness_of(field, full_thickness), .is_full = true}};
    for (std::size_t i = 0; i < field.recesses.size(); ++i) {
        const double skin = thickness_of(field, static_cast<int>(i) + 1);
        const auto same = [&](const Zone& zone) { return !zone.is_full && zone.thickness == skin; };
        if (std::none_of(zones.begin(), zones.end(), same))
            zones.push_back({.thickness = skin, .is_full = false});
    }
    if (zones.size() > most_zones)
        throw Error(ErrorKind::not_computable,
                    {.place = "recesses",
                     .what = "the seasons of a top of " + std::to_string(zones.size()) +
                             " thicknesses are not computed",
                     .remedy = "give recesses that are alike one depth, so that there are " +
                               std::to_string(most_zones) + " at most"});
    return zones;
}

/// The movement that a free strain of one everywhere brings, exactly: stretched, and curved about the top face.
struct FreeMovement {
    std::vector<double> stretched, curved;
};
FreeMovement free_movement(const Shell& shell, Point n) {
    FreeMovement free;
    const auto n_dofs = static_cast<std::size_t>(shell.stiffness.grid.n_dofs());
    free.stretched.assign(n_dofs, 0);
    free.curved.assign(n_dofs, 0);
    for (std::size_t node = 0; node * dofs_per_node < n_dofs; ++node) {
        const Point p = shell.node_point(static_cast<int>(node));
        const double s = n.x * p.x + n.y * p.y;
        double* const flat = free.stretched.data() + node * dofs_per_node;
        double* const bent = free.curved.data() + node * dofs_per_node;
        flat[0] = s * n.x;
        flat[1] = s * n.y;
        bent[2] = -s * s / 2;
        bent[3] = s * n.x;
        bent[4] = s * n.y;
    }
    return free;
}

std::vector<SwellingOf> unit_swellings(const std::vector<Zone>& zones, const ThicknessField& field) {
    std::vector<SwellingOf> swellings;
    for (std::size_t i = 0; i < zones.size(); ++i)
        for (const auto& [above, below] : {std::pair{1.0, 1.0}, std::pair{0.5, -0.5}})
            swellings.push_back([&zones, &field, i, above = above, below = below](int region, double t) {
                const double here = zone_of(zones, field, region) == i ? 1 : 0;
                return std::vector<FreeLayer>{{.thickness = t,
                                               .modulus = 1,
                                               .strain_above = here * above,
                                               .strain_below = here * below}};
            });
    return swellings;
}

std::vector<ZoneFields::Line> sampled(const Shell& shell, Point direction, std::vector<Point>& points) {
    std::vector<ZoneFields::Line> lines;
    for (const TopLine& line : lines_over(shell, direction, n_lines)) {
        ZoneFields::Line sampled{.line = line, .points = {}};
        for (std::size_t i = 0; i < n_samples; ++i) {
            sampled.points.push_back(points.size());
            points.push_back(line.at(static_cast<double>(i) / (n_samples - 1)));
        }
        lines.push_back(std::move(sampled));
    }
    return lines;
}

std::vector<double> heights_at(const Shell& shell, const std::vector<double>& dofs,
                               const std::vector<Point>& points) {
    std::vector<double> heights;
    for (const Point& p : points) heights.push_back(movement_at(shell, dofs, p));
    return heights;
}

double rise_of(const std::vector<ZoneFields::Line>& lines, const std::vector<double>& height,
               Rise& greatest) {
    for (const ZoneFields::Line& line : lines) {
        const double from = height[line.points.front()], to = height[line.points.back()];
        for (std::size_t i = 1; i + 1 < line.points.size(); ++i) {
            const double s = static_cast<double>(i) / static_cast<double>(line.points.size() - 1);
            const double rise = height[line.points[i]] - (1 - s) * from - s * to;
            if (std::abs(rise) > std::abs(greatest.value)) greatest = {rise, line.line.from, line.line.to};
        }
    }
    return greatest.value;
}

void add_places(const Shell& shell, ZoneFields& fields, std::vector<StrainMean>& means) {
    constexpr int n = 31;
    const double grain = shell.plane.grain_rad;
    for (const TopLine& line : lines_over(shell, {std::cos(grain), std::sin(grain)}, n))
        for (int i = 0; i < n; ++i) {
            const Point p = line.at((i + 0.5) / n);
            const SectionRegion place = section_region_at(shell.field, p);
            StrainMean mean = strain_mean(shell, p);
            if (place.region == outside || mean.region == outside) continue;
            fields.places.push_back({.at = p,
                                     .zone = zone_of(fields.zones, shell.field, place.region),
                                     .stiffness_share = stiffness_share(shell.field, place)});
            means.push_back(std::move(mean));
        }
}

void add_tension_of_zones(const FreeTop& top, Point across, ZoneFields& fields) {
    const Shell& shell = top.model.shell;
    std::vector<StrainMean> means;
    add_places(shell, fields, means);
    const FreeMovement free = free_movement(shell, across);
    std::vector<std::span<const double>> all;
    for (const FreeAnswer& answer : top.answers) all.emplace_back(answer.dofs);
    all.emplace_back(free.stretched);
    all.emplace_back(free.curved);
    const auto stresses = stresses_of(shell, means, FieldsAbreast(all));
    const std::size_t n_units = top.answers.size();
    for (std::size_t unit = 0; unit < n_units; ++unit) {
        std::vector<std::array<double, 2>> faces;
        for (std::size_t i = 0; i < means.size(); ++i) {
            std::array<double, 2> face{stresses[unit][i].top[1], stresses[unit][i].bottom[1]};
            const ZoneFields::Place& place = fields.places[i];
            if (place.zone == unit / 2) { // of its strain only what it is hindered in is stress
                const StressSample &flat = stresses[n_units][i], &bent = stresses[n_units + 1][i];
                const double stretch = unit % 2 == 0 ? 1 : 0.5,
                             curve = unit % 2 == 0 ? 0 : 1 / fields.zones[place.zone].thickness;
                face[0] -= stretch * flat.top[1] + curve * bent.top[1];
                face[1] -= stretch * flat.bottom[1] + curve * bent.bottom[1];
            }
            faces.push_back(face);
        }
        fields.tension.push_back(std::move(faces));
    }
}

} // namespace

std::size_t zone_of(const std::vector<Zone>& zones, const ThicknessField& field, int region) {
    const double thickness = thickness_of(field, region);
    for (std::size_t i = 0; i < zones.size(); ++i)
        if (zones[i].is_full == (region == full_thickness) && zones[i].thickness == thickness) return i;
    return 0;
}

std::vector<Zone> zones_of(const Piece& piece) {
    return zones_in(thickness_field(piece, plane_of(piece), false));
}

ZoneFields zone_fields(const Piece& piece, int threads) {
    ZoneFields fields;
    const PlaneStiffness plane = plane_of(piece);
    const ThicknessField field = thickness_field(piece, plane, false);
    fields.zones = zones_in(field);
    const std::vector<SwellingOf> swellings = unit_swellings(fields.zones, field);
    const FreeTop low = free_top(piece, low_order, swellings, threads),
                  high = free_top(piece, high_order, swellings, threads);
    const Shell& shell = high.model.shell;
    const double grain = plane.grain_rad;
    const Point along{std::cos(grain), std::sin(grain)}, across{-along.y, along.x};
    fields.across = sampled(shell, across, fields.points);
    fields.along = sampled(shell, along, fields.points);
    for (std::size_t unit = 0; unit < swellings.size(); ++unit) {
        fields.height.push_back(heights_at(shell, high.answers[unit].dofs, fields.points));
        if (unit % 2 == 0 && fields.zones.size() == 1)
            continue; // even through and through: no rise to compare
        Rise fine, coarse;
        const double one = rise_of(fields.across, fields.height.back(), fine),
                     other =
                         rise_of(fields.across,
                                 heights_at(low.model.shell, low.answers[unit].dofs, fields.points), coarse);
        if (std::abs(one) > 1e-6)
            fields.error_percent = std::max(fields.error_percent, 100 * std::abs(other / one - 1));
    }
    add_tension_of_zones(high, across, fields);
    const Elastic elastic = elastic_of(piece);
    fields.Q_across = elastic.E2 / (1 - elastic.nu12 * elastic.nu12 * elastic.E2 / elastic.E1);
    return fields;
}

Cup shape_of(const ZoneFields& fields, std::span<const ZoneStrain> strains) {
    std::vector<double> height(fields.points.size(), 0);
    for (std::size_t zone = 0; zone < strains.size(); ++zone)
        for (const auto& [unit, size] :
             {std::pair{2 * zone, strains[zone].mean}, std::pair{2 * zone + 1, strains[zone].difference}})
            if (size != 0)
                for (std::size_t i = 0; i < height.size(); ++i) height[i] += size * fields.height[unit][i];
    Cup cup;
    cup.error_percent = fields.error_percent;
    rise_of(fields.across, height, cup.across);
    rise_of(fields.along, height, cup.along);
    if (height.size() < 3) return cup;
    std::vector<WeighedPoint> places;
    for (std::size_t i = 0; i < height.size(); ++i)
        places.push_back({.x = fields.points[i].x, .y = fields.points[i].y, .value = height[i], .weight = 1});
    const FlatPlane plane = fitted_plane(places);
    double low = 0, high = 0; // the residuals have both signs
    for (const WeighedPoint& place : places) {
        const double above = place.value - plane.at(place.x, place.y);
        low = std::min(low, above);
        high = std::max(high, above);
    }
    cup.out_of_flat = high - low;
    return cup;
}

} // namespace hollowtop
