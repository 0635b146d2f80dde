// SPDX-License-Identifier: MIT
#include "solver/readout/gather.hpp"

#include "materials/weakest_link.hpp"
#include "solver/interface/bearing_parts.hpp"
#include "solver/interface/bed.hpp"
#include "solver/readout/flatness.hpp"
#include "solver/readout/kept_sink.hpp"
#include "solver/readout/span.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
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
        double low = 0, high = 0;             ///< its own edges: its half of a strip that it shares
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
                     least = 10; // narrower strips yield until they are no longer (judgement)
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
        // two tiles share a strip: each is taken to have half of it
        const auto way = [](double middle_of_strip, double half_strip, double lean, double at_place) {
            return ActiveTile::Way{.low = middle_of_strip - (lean > 0 ? 0 : half_strip),
                                   .high = middle_of_strip + (lean < 0 ? 0 : half_strip),
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

std::vector<LoadBearing> load_bearings(const Model& model, const SolvedSituation& s) {
    std::vector<LoadBearing> bearings;
    for (const ActingLoad& acting : s.plan.loads) {
        const LoadColumn& load = model.loads[static_cast<size_t>(acting.load)];
        for (const Pressed& pressed : load.pressed)
            bearings.push_back({.what = '"' + load.name + '"' + (pressed.by.empty() ? "" : ", " + pressed.by),
                                .at = pressed.at,
                                .size = {pressed.size_x, pressed.size_y},
                                .force_N = acting.factor * pressed.force,
                                .pressure_MPa = acting.factor * pressed.pressure});
    }
    return bearings;
}

std::vector<ProbeReading> probe_readings(const Piece& piece, const Model& model, const SolvedSituation& s,
                                         const SupportPlane& plane) {
    std::vector<ProbeReading> readings;
    for (const Point& p : piece.probes) {
        ProbeReading reading{.at = p, .w_mm = -movement_at(model.shell, s.dofs, p) - plane.at(p)};
        const StressSample stress = stress_in(model.shell, s, strain_mean(model.shell, p));
        reading.stress_top_MPa = stress.top;
        reading.stress_bottom_MPa = stress.bottom;
        reading.moment_N = moments_at(model.shell, s.dofs, p);
        for (double& m : reading.moment_N) m /= s.plan.creep_factor;
        readings.push_back(reading);
    }
    return readings;
}

} // namespace

SituationResponse situation_response(const Piece& piece, const Model& model, const SolvedSituation& s,
                                     const Movements& movements, std::span<const WallPoint> walls,
                                     std::vector<StressSample> survey) {
    SituationResponse row;
    row.name = s.plan.name;
    row.duration = s.plan.duration;
    row.stage = s.plan.stage;
    row.judged_for = s.plan.judged_for;
    row.set_down = s.plan.set_down;
    row.design_of = s.plan.design_of;
    row.factors = s.plan.factors;
    row.sag_mm = movements.sag.value;
    row.sag_at = movements.sag.at;
    row.span = span_at(parts_that_bear(piece, model.shell.field), row.sag_at,
                       [&](Point way) { return modulus_along(model.shell.plane, way); });
    if (const std::optional<Dish>& dish = movements.dish) {
        row.dish_mm = std::abs(dish->value);
        row.dish_at = dish->at;
        row.dish_skin_mm = model.shell.field.recesses[static_cast<size_t>(dish->recess)].skin;
    }
    row.applied_N = s.applied.force;
    row.supports = support_forces(piece, model, s);
    row.load_bearings = load_bearings(model, s);
    row.equilibrium_error = s.equilibrium_error;
    row.residual = s.residual;
    row.tipping_factor = s.tipping_factor;
    row.tipping_factor_solid = s.tipping_factor_solid;
    row.tipping = s.tipping;
    row.stress.survey = std::move(survey);
    for (const WallPoint& point : walls)
        row.walls.push_back(wall_sample(model.shell, point, s.dofs, s.plan.creep_factor));
    return row;
}

Readings readings_of(const Shell& shell, std::span<const Point> line_ends) {
    return {.survey = survey_means(shell),
            .dish = dish_grid(shell),
            .walls = wall_points(shell),
            .skins = skin_points(shell),
            .tension = TensionPoints(shell, line_ends)};
}

std::vector<TensionAcross> tension_across_in(const Shell& shell, const TensionPoints& points,
                                             std::span<const SolvedSituation* const> situations) {
    std::vector<std::span<const double>> fields;
    fields.reserve(situations.size());
    for (const SolvedSituation* s : situations) fields.emplace_back(s->dofs);
    std::vector<TensionAcross> tension = points.of(shell, materials::weakest_link().exponent, fields);
    for (size_t k = 0; k < tension.size(); ++k) { // after the years the wood's modulus is the reduced one
        tension[k].norm /= situations[k]->plan.creep_factor;
        tension[k].peak /= situations[k]->plan.creep_factor;
    }
    return tension;
}

std::vector<Readout> read_stresses_together(std::shared_ptr<const Model> model,
                                            std::span<const std::vector<SolvedSituation>* const> pieces,
                                            const Readings& readings, std::shared_ptr<MeansAt> means_at) {
    std::vector<const SolvedSituation*> situations;
    for (const std::vector<SolvedSituation>* piece : pieces)
        for (const SolvedSituation& s : *piece) situations.push_back(&s);
    const Shell& shell = model->shell; // `stresses` keeps it alive
    const auto stresses = std::make_shared<StressesAt>(
        std::move(model), situations, means_at ? std::move(means_at) : std::make_shared<MeansAt>());
    std::vector<std::vector<StressSample>> rows = stresses->at_all(readings.survey);
    const std::vector<TensionAcross> tension = tension_across_in(shell, readings.tension, situations);
    std::vector<Readout> readouts;
    size_t first = 0;
    for (const std::vector<SolvedSituation>* piece : pieces) {
        Readout& readout = readouts.emplace_back(Readout{
            .survey = {}, .tension = {}, .movements = {}, .stresses = stresses, .first_field = first});
        for (size_t s = 0; s < piece->size(); ++s, ++first) {
            readout.survey.push_back(std::move(rows[first]));
            readout.tension.push_back(tension[first]);
        }
    }
    return readouts;
}

Readout read_out(const std::shared_ptr<const Model>& model, const std::vector<SolvedSituation>& solved,
                 const Readings& readings, std::shared_ptr<MeansAt> means_at) {
    const std::vector<SolvedSituation>* const one = &solved;
    Readout readout =
        std::move(read_stresses_together(model, {&one, 1}, readings, std::move(means_at)).front());
    for (const SolvedSituation& s : solved)
        if (s.plan.design_of < 0) readout.movements.push_back(movements_of(*model, s, readings.dish));
    return readout;
}

Response gather_response(const Piece& piece, const std::shared_ptr<const Model>& model,
                         const std::vector<SolvedSituation>& solved, const Readings& readings,
                         Readout readout) {
    Response response;
    for (size_t i = 0; i < solved.size(); ++i) {
        const SolvedSituation& s = solved[i];
        const bool is_design = s.plan.design_of >= 0;
        const Movements movements = is_design ? Movements{} : std::move(readout.movements[i]);
        SituationResponse& row =
            (is_design ? response.designs : response.situations)
                .emplace_back(situation_response(piece, *model, s, movements, readings.walls,
                                                 std::move(readout.survey[i])));
        row.tension_across = readout.tension[i];
        if (!is_design && s.plan.stage != Stage::passing) row.flatness = flatness_of(model->shell, s.dofs);
        if (!is_design) row.kept_sink_mm = kept_sinks(piece, *model, s, movements.plane);
        if (!is_design) row.probes = probe_readings(piece, *model, s, movements.plane);
        row.stress.at = [stresses = readout.stresses, field = readout.first_field + i](Point p) {
            return stresses->at(p, field);
        };
        row.buckling_factor = skin_buckling(model->shell, readings.skins, s);
    }
    return response;
}

Response gather_response(const Piece& piece, const std::shared_ptr<const Model>& model,
                         const std::vector<SolvedSituation>& solved, const Readings& readings) {
    return gather_response(piece, model, solved, readings, read_out(model, solved, readings));
}

} // namespace hollowtop
