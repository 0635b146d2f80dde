// SPDX-License-Identifier: MIT
#include "solver/readout/support_forces.hpp"

#include "solver/interface/bearing_parts.hpp"
#include "solver/interface/bed.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

namespace hollowtop {
namespace {

/// With what force a support that holds down pulls: along a line every stretch by itself, for its other end
/// cannot help it; across it what presses on one side stands against what pulls on the other.
double pull_at(const Support& support, const Model& model, const SolvedSituation& s, int index) {
    const bool holds = std::visit(
        [](const auto& kind) {
            if constexpr (requires { kind.hold_down; })
                return kind.hold_down;
            else
                return false;
        },
        support.kind);
    if (!holds) return 0;
    const auto* bearer = std::get_if<Bearer>(&support.kind);
    double pull = 0;
    std::map<long, double> stretches;
    if (bearer)
        for (size_t k = 0; k < model.points.size(); ++k) {
            const ContactPoint& point = model.points[k];
            if (point.support != index) continue;
            const Point middle{point.at.x + point.to_middle.x, point.at.y + point.to_middle.y};
            const double along = (middle.x - bearer->from.x) * (bearer->to.x - bearer->from.x) +
                                 (middle.y - bearer->from.y) * (bearer->to.y - bearer->from.y);
            const double length = std::hypot(bearer->to.x - bearer->from.x, bearer->to.y - bearer->from.y);
            stretches[std::lround(along / length)] +=
                s.point_force[k]; // tiles side by side, to the millimetre
        }
    for (const auto& [at, force] : stretches) pull += std::max(-force, 0.0);
    constexpr double rounding = 1e-6; // of all forces
    if (stretches.empty()) pull = std::max(-s.support_force[static_cast<size_t>(index)], 0.0);
    return pull > rounding * std::abs(s.applied.force) ? pull : 0;
}

/// A tile in the axes of its support, along it (0) and across it (1).
struct ActiveTile {
    struct Way {
        double low = 0, high = 0;             ///< its own edges: its half of a row of the bed that it shares
        double reach_low = 0, reach_high = 0; ///< its pressure is nought by there
        double at = 0;                        ///< where its force acts
    };
    std::array<Way, 2> ways{};
    Point at{};
    double force = 0, area = 0;
    bool is_open = false; ///< it has a gap: a wall is between it and what presses
};

/// Where the next tile lifts the pressure reaches past the edge of what presses, though not to where that one
/// would act.
void reach_to_what_lifts(std::vector<ActiveTile>& tiles) {
    for (ActiveTile& tile : tiles)
        for (std::size_t way = 0; way < 2; ++way) {
            ActiveTile::Way& mine = tile.ways[way];
            const ActiveTile *before = nullptr, *after = nullptr;
            for (const ActiveTile& other : tiles) {
                const double beside = other.ways[1 - way].at, at = other.ways[way].at;
                if (beside < tile.ways[1 - way].low || beside > tile.ways[1 - way].high) continue;
                if (at < mine.at && (!before || at > before->ways[way].at)) before = &other;
                if (at > mine.at && (!after || at < after->ways[way].at)) after = &other;
            }
            mine.reach_low =
                before && before->force <= 0 && !before->is_open ? before->ways[way].at : mine.low;
            mine.reach_high = after && after->force <= 0 && !after->is_open ? after->ways[way].at : mine.high;
        }
}

/// Greatest mean pressure over what presses within bearing_depth of one of its edges. A pressure that falls
/// in a straight line from an edge to nought presses on three times the distance of its force from that edge,
/// however coarse its tiles are.
void find_pressure(std::vector<ActiveTile> tiles, const Rectangle& bed, SupportForce& support) {
    constexpr double deep = bearing_depth,
                     least = 10; // narrower ones yield until they are no longer (judgement)
    reach_to_what_lifts(tiles);
    std::erase_if(tiles, [](const ActiveTile& tile) { return tile.force <= 0; });
    const std::array<Point, 2> ends{Point{bed.x0, bed.x1}, Point{bed.y0, bed.y1}};
    const auto starts = [&](const ActiveTile& tile, std::size_t way) {
        const auto& t = tile.ways[way];
        return std::array{std::max(std::min(t.low, ends[way].y - deep), ends[way].x),
                          std::max(t.high - deep, ends[way].x)};
    };
    for (const ActiveTile& tile : tiles)
        for (const double p0 : starts(tile, 0))
            for (const double q0 : starts(tile, 1)) {
                double force = 0, area = 0;
                std::array<Point, 2> tiled, pressed; // from, to
                tiled.fill({1e300, -1e300});
                pressed = tiled;
                std::array<double, 2> moment{};
                for (const ActiveTile& near : tiles) {
                    if (near.ways[0].at < p0 || near.ways[0].at > p0 + deep || near.ways[1].at < q0 ||
                        near.ways[1].at > q0 + deep)
                        continue;
                    force += near.force;
                    area += near.area;
                    for (std::size_t way = 0; way < 2; ++way) {
                        const auto& n = near.ways[way];
                        moment[way] += near.force * n.at;
                        tiled[way] = {std::min(tiled[way].x, n.low), std::max(tiled[way].y, n.high)};
                        pressed[way] = {std::min(pressed[way].x, n.reach_low),
                                        std::max(pressed[way].y, n.reach_high)};
                    }
                }
                if (area <= 0 || force <= 0) continue;
                for (std::size_t way = 0; way < 2; ++way) {
                    const double middle = moment[way] / force;
                    const double falls = 3 * std::min(middle - pressed[way].x, pressed[way].y - middle);
                    const double wide = std::min(pressed[way].y - pressed[way].x, falls);
                    area *= std::max(wide, std::min(least, ends[way].y - ends[way].x)) /
                            std::max(tiled[way].y - tiled[way].x, 1e-300);
                }
                if (force / area <= support.pressure_MPa) continue;
                support.pressure_MPa = force / area;
                support.pressure_at = tile.at;
            }
}

} // namespace

std::vector<SupportForce> support_forces(const Piece& piece, const Model& model, const SolvedSituation& s) {
    std::vector<SupportForce> forces;
    for (size_t i = 0; i < piece.supports.size(); ++i)
        forces.push_back({.support = piece.supports[i].name,
                          .centre = model.supports.centres[i],
                          .force_N = s.support_force[i],
                          .lifts = false,
                          .pressure_MPa = 0,
                          .pressure_at = model.supports.centres[i],
                          .bearing_area_mm2 = model.supports.areas[i]});
    std::vector<char> has_points(forces.size(), 0), presses(forces.size(), 0);
    std::vector<std::vector<ActiveTile>> tiles(forces.size());
    std::vector<Rectangle> beds(forces.size(), Rectangle{1e300, -1e300, 1e300, -1e300});
    for (size_t k = 0; k < model.points.size(); ++k) {
        const ContactPoint& point = model.points[k];
        const auto i = static_cast<size_t>(point.support);
        has_points[i] = has_points[i] || point.gap <= 0;
        presses[i] = presses[i] || s.point_presses[k];
        if (forces[i].bearing_area_mm2 <= 0) continue;
        const auto local = [&](Point at) {
            const Point d{at.x - forces[i].centre.x, at.y - forces[i].centre.y};
            return Point{d.x * point.axis.x + d.y * point.axis.y, d.y * point.axis.x - d.x * point.axis.y};
        };
        const Point middle = local({point.at.x + point.to_middle.x, point.at.y + point.to_middle.y}),
                    at = local(point.at);
        // two tiles share a row of the bed: each is taken to have half of it
        const auto way = [](double middle_of_row, double half_row, double lean, double at_place) {
            return ActiveTile::Way{.low = middle_of_row - (lean > 0 ? 0 : half_row),
                                   .high = middle_of_row + (lean < 0 ? 0 : half_row),
                                   .at = at_place};
        };
        const ActiveTile tile{.ways = {way(middle.x, point.half_along, point.lean_along, at.x),
                                       way(middle.y, point.half_across, point.lean_across, at.y)},
                              .at = point.at,
                              .force = s.point_force[k],
                              .area = point.area,
                              .is_open = point.gap > 0};
        Rectangle& bed = beds[i];
        bed = {std::min(bed.x0, tile.ways[0].low), std::max(bed.x1, tile.ways[0].high),
               std::min(bed.y0, tile.ways[1].low), std::max(bed.y1, tile.ways[1].high)};
        tiles[i].push_back(tile);
    }
    for (size_t i = 0; i < forces.size(); ++i) {
        forces[i].lifts = has_points[i] && !presses[i];
        forces[i].pull_N = pull_at(piece.supports[i], model, s, static_cast<int>(i));
        find_pressure(tiles[i], beds[i], forces[i]);
    }
    return forces;
}

} // namespace hollowtop
