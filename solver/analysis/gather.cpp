// SPDX-License-Identifier: MIT
#include "solver/analysis/gather.hpp"

#include "materials/weakest_link.hpp"
#include "solver/analysis/flatness.hpp"
#include "solver/analysis/span.hpp"
#include "solver/analysis/kept_sink.hpp"
#include "solver/interface/bed.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace hollowtop {
namespace {

/// With what force a support that holds down pulls: along a line every stretch by itself, for its other end cannot help it; across it
/// what presses on one side stands against what pulls on the other.
double pull_at(const Support& support, const Model& model, const SolvedSituation& s, int index) {
    const bool holds = std::visit([](const auto& kind) { if constexpr (requires { kind.hold_down; }) return kind.hold_down; else return false; }, support.kind);
    if (!holds) return 0;
    const auto* bearer = std::get_if<Bearer>(&support.kind);
    double pull = 0;
    std::map<long, double> stretches;
    if (bearer)
        for (size_t k = 0; k < model.points.size(); ++k) {
            const ContactPoint& point = model.points[k];
            if (point.support != index) continue;
            const Point middle{point.at.x + point.to_middle.x, point.at.y + point.to_middle.y};
            const double along = (middle.x - bearer->from.x) * (bearer->to.x - bearer->from.x) + (middle.y - bearer->from.y) * (bearer->to.y - bearer->from.y);
            const double length = std::hypot(bearer->to.x - bearer->from.x, bearer->to.y - bearer->from.y);
            stretches[std::lround(along / length)] += s.point_force[k]; // tiles side by side, to the millimetre
        }
    for (const auto& [at, force] : stretches) pull += std::max(-force, 0.0);
    constexpr double rounding = 1e-6; // of all forces
    if (stretches.empty()) pull = std::max(-s.support_force[static_cast<size_t>(index)], 0.0);
    return pull > rounding * std::abs(s.applied.force) ? pull : 0;
}

/// A pressing tile in the axes of its support.
struct PressingTile {
    double p0 = 0, p1 = 0, q0 = 0, q1 = 0; ///< its own edges
    Point at{};
    double p = 0, q = 0, force = 0, area = 0;
};

/// Greatest mean pressure over what presses within bearing_depth of one of its edges.
void find_pressure(const std::vector<PressingTile>& tiles, const Rectangle& bed, SupportForce& support) {
    constexpr double deep = bearing_depth, least = 10; // narrower strips yield until they are no longer (judgement)
    const auto width = [&](double low, double high, double all) { return std::max(1.0, std::min(least, all) / std::max(high - low, 1e-300)); };
    for (const PressingTile& tile : tiles) {
        for (const double p0 : {std::max(std::min(tile.p0, bed.x1 - deep), bed.x0), std::max(tile.p1 - deep, bed.x0)})
            for (const double q0 : {std::max(std::min(tile.q0, bed.y1 - deep), bed.y0), std::max(tile.q1 - deep, bed.y0)}) {
                double force = 0, area = 0;
                Rectangle pressed{1e300, -1e300, 1e300, -1e300};
                for (const PressingTile& near : tiles) {
                    if (near.p < p0 || near.p > p0 + deep || near.q < q0 || near.q > q0 + deep) continue;
                    force += near.force;
                    area += near.area;
                    pressed = {std::min(pressed.x0, near.p0), std::max(pressed.x1, near.p1), std::min(pressed.y0, near.q0), std::max(pressed.y1, near.q1)};
                }
                if (area <= 0) continue;
                area *= width(pressed.x0, pressed.x1, bed.x1 - bed.x0) * width(pressed.y0, pressed.y1, bed.y1 - bed.y0);
                if (force / area <= support.pressure_MPa) continue;
                support.pressure_MPa = force / area;
                support.pressure_at = tile.at;
            }
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
    std::vector<std::vector<PressingTile>> tiles(forces.size());
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
        const Point middle = local({point.at.x + point.to_middle.x, point.at.y + point.to_middle.y}), at = local(point.at);
        // two tiles share a strip: each is taken to have half of it
        const auto half = [](double middle_of_strip, double half_strip, double lean) {
            return std::pair{middle_of_strip - (lean > 0 ? 0 : half_strip), middle_of_strip + (lean < 0 ? 0 : half_strip)};
        };
        const auto [p0, p1] = half(middle.x, point.half_along, point.lean_along);
        const auto [q0, q1] = half(middle.y, point.half_across, point.lean_across);
        Rectangle& bed = beds[i];
        bed = {std::min(bed.x0, p0), std::max(bed.x1, p1), std::min(bed.y0, q0), std::max(bed.y1, q1)};
        if (s.point_force[k] <= 0) continue;
        tiles[i].push_back({.p0 = p0, .p1 = p1, .q0 = q0, .q1 = q1, .at = point.at, .p = at.x, .q = at.y, .force = s.point_force[k], .area = point.area});
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
            bearings.push_back({.what = '"' + load.name + '"' + (pressed.by.empty() ? "" : ", " + pressed.by), .at = pressed.at,
                                .size = {pressed.size_x, pressed.size_y}, .force_N = acting.factor * pressed.force, .pressure_MPa = acting.factor * pressed.pressure});
    }
    return bearings;
}

std::vector<ProbeReading> probe_readings(const Piece& piece, const Model& model, const SolvedSituation& s, const SupportPlane& plane) {
    std::vector<ProbeReading> readings;
    for (const Point& p : piece.probes) {
        ProbeReading reading{.at = p, .w_mm = -movement_at(model.shell, s.dofs, p) - plane.at(p)};
        const StressSample stress = stress_in(model.shell, s, strain_mean(model.shell, p));
        reading.stress_top_MPa = stress.top;
        reading.stress_bottom_MPa = stress.bottom;
        reading.moment_N = moments_at(model.shell, s.dofs, p);
        for (double& m : reading.moment_N) m /= s.plan.softening;
        readings.push_back(reading);
    }
    return readings;
}

} // namespace

SituationResponse situation_response(const Piece& piece, const Model& model, const SolvedSituation& s,
                                     const Movements& movements, std::span<const WallPoint> walls, std::vector<StressSample> survey) {
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
    row.span = span_at(parts_that_bear(piece, model.shell.field), row.sag_at, [&](Point way) { return modulus_along(model.shell.plane, way); });
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
    for (const WallPoint& point : walls) row.walls.push_back(wall_sample(model.shell, point, s.dofs, s.plan.softening));
    return row;
}

Readings readings_of(const Shell& shell, std::span<const Point> line_ends) {
    return {.survey = survey_means(shell), .dish = dish_grid(shell), .walls = wall_points(shell), .skins = skin_points(shell), .tension = TensionPoints(shell, line_ends)};
}

std::vector<TensionAcross> tension_across_in(const Shell& shell, const TensionPoints& points, std::span<const SolvedSituation* const> situations) {
    std::vector<std::span<const double>> fields;
    fields.reserve(situations.size());
    for (const SolvedSituation* s : situations) fields.emplace_back(s->dofs);
    std::vector<TensionAcross> tension = points.of(shell, materials::weakest_link().exponent, fields);
    for (size_t k = 0; k < tension.size(); ++k) { // after the years the wood's modulus is the reduced one
        tension[k].norm /= situations[k]->plan.softening;
        tension[k].peak /= situations[k]->plan.softening;
    }
    return tension;
}

std::vector<Readout> read_stresses_together(std::shared_ptr<const Model> model, std::span<const std::vector<SolvedSituation>* const> pieces, const Readings& readings,
                                            std::shared_ptr<MeansAt> means_at) {
    std::vector<const SolvedSituation*> situations;
    for (const std::vector<SolvedSituation>* piece : pieces)
        for (const SolvedSituation& s : *piece) situations.push_back(&s);
    const Shell& shell = model->shell; // `stresses` keeps it alive
    const auto stresses = std::make_shared<StressesAt>(std::move(model), situations, means_at ? std::move(means_at) : std::make_shared<MeansAt>());
    std::vector<std::vector<StressSample>> rows = stresses->at_all(readings.survey);
    const std::vector<TensionAcross> tension = tension_across_in(shell, readings.tension, situations);
    std::vector<Readout> readouts;
    size_t first = 0;
    for (const std::vector<SolvedSituation>* piece : pieces) {
        Readout& readout = readouts.emplace_back(Readout{.survey = {}, .tension = {}, .movements = {}, .stresses = stresses, .first_field = first});
        for (size_t s = 0; s < piece->size(); ++s, ++first) {
            readout.survey.push_back(std::move(rows[first]));
            readout.tension.push_back(tension[first]);
        }
    }
    return readouts;
}

Readout read_out(const std::shared_ptr<const Model>& model, const std::vector<SolvedSituation>& solved, const Readings& readings, std::shared_ptr<MeansAt> means_at) {
    const std::vector<SolvedSituation>* const one = &solved;
    Readout readout = std::move(read_stresses_together(model, {&one, 1}, readings, std::move(means_at)).front());
    for (const SolvedSituation& s : solved)
        if (s.plan.design_of < 0) readout.movements.push_back(movements_of(*model, s, readings.dish));
    return readout;
}

Response gather_response(const Piece& piece, const std::shared_ptr<const Model>& model, const std::vector<SolvedSituation>& solved,
                         const Readings& readings, Readout readout) {
    Response response;
    for (size_t i = 0; i < solved.size(); ++i) {
        const SolvedSituation& s = solved[i];
        const bool is_design = s.plan.design_of >= 0;
        const Movements movements = is_design ? Movements{} : std::move(readout.movements[i]);
        SituationResponse& row = (is_design ? response.designs : response.situations)
                                     .emplace_back(situation_response(piece, *model, s, movements, readings.walls, std::move(readout.survey[i])));
        row.tension_across = readout.tension[i];
        if (!is_design && s.plan.stage != Stage::passing) row.flatness = flatness_of(model->shell, s.dofs);
        if (!is_design) row.kept_sink_mm = kept_sinks(piece, *model, s, movements.plane);
        if (!is_design) row.probes = probe_readings(piece, *model, s, movements.plane);
        row.stress.at = [stresses = readout.stresses, field = readout.first_field + i](Point p) { return stresses->at(p, field); };
        row.buckling_factor = skin_buckling(model->shell, readings.skins, s);
    }
    return response;
}

Response gather_response(const Piece& piece, const std::shared_ptr<const Model>& model, const std::vector<SolvedSituation>& solved, const Readings& readings) {
    return gather_response(piece, model, solved, readings, read_out(model, solved, readings));
}

} // namespace hollowtop
