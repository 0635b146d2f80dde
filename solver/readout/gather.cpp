// SPDX-License-Identifier: MIT
#include "solver/readout/gather.hpp"

#include "materials/weakest_link.hpp"
#include "solver/interface/bearing_parts.hpp"
#include "solver/interface/bed.hpp"
#include "solver/readout/flatness.hpp"
#include "solver/readout/kept_sink.hpp"
#include "solver/readout/span.hpp"
#include "solver/readout/support_forces.hpp"
#include "solver/readout/worst_stress.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

namespace hollowtop {
namespace {

std::vector<LoadBearing> load_bearings(const Model& model, const SolvedSituation& s) {
    std::vector<LoadBearing> bearings;
    for (const ActingLoad& acting : s.plan.loads) {
        const LoadColumn& load = model.loads[static_cast<size_t>(acting.load)];
        for (const Pressed& pressed : load.pressed)
            bearings.push_back(
                {.what = said("\"{}\"{}", load.name, pressed.by.empty() ? "" : ", " + pressed.by),
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

KeptSpans spans_of(const Piece& piece, const Shell& shell) {
    return {parts_that_bear(piece, shell.field),
            [plane = shell.plane](Point way) { return modulus_along(plane, way); }};
}

SituationResponse situation_response(const Piece& piece, const Model& model, const SolvedSituation& s,
                                     const Movements& movements, std::span<const WallPoint> walls,
                                     std::vector<StressSample> survey, const KeptSpans* spans) {
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
    row.span = spans ? spans->at(row.sag_at) : spans_of(piece, model.shell).at(row.sag_at);
    if (const std::optional<Dish>& dish = movements.dish) {
        row.dish_mm = std::abs(dish->value);
        row.dish_at = dish->at;
        row.dish_skin_mm = local_thickness(model.shell.field, dish->recess + 1, dish->at);
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

void seek_greatest_mean(const Shell& shell, const TensionPoints& points, const StressField& stress,
                        TensionAcross& tension) {
    if (stress.survey.empty() || !(tension.norm > 0)) return;
    const Worst greatest = worst_of(stress, [&](const StressSample& sample) {
        const double pulled = std::max(sample.top[1], sample.bottom[1]);
        return pulled > 0 && points.holds(shell, sample.at) ? pulled : 0;
    });
    tension.mean_at = greatest.sample.at;
    tension.mean = greatest.value;
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
                         Readout readout, bool survey_alone) {
    Response response;
    for (size_t i = 0; i < solved.size(); ++i) {
        const SolvedSituation& s = solved[i];
        const bool is_design = s.plan.design_of >= 0;
        const Movements movements = is_design ? Movements{} : readout.movements[i];
        SituationResponse& row =
            (is_design ? response.designs : response.situations)
                .emplace_back(situation_response(piece, *model, s, movements, readings.walls,
                                                 std::move(readout.survey[i])));
        row.tension_across = readout.tension[i];
        if (!is_design && s.plan.stage != Stage::passing) row.flatness = flatness_of(model->shell, s.dofs);
        if (!is_design) row.kept_sink_mm = kept_sinks(piece, *model, s, movements.plane);
        if (!is_design) row.probes = probe_readings(piece, *model, s, movements.plane);
        if (!survey_alone)
            row.stress.at = [stresses = readout.stresses, field = readout.first_field + i](Point p) {
                return stresses->at(p, field);
            };
        seek_greatest_mean(model->shell, readings.tension, row.stress, *row.tension_across);
        row.buckling_factor = skin_buckling(model->shell, readings.skins, s);
    }
    return response;
}

Response gather_response(const Piece& piece, const std::shared_ptr<const Model>& model,
                         const std::vector<SolvedSituation>& solved, const Readings& readings) {
    return gather_response(piece, model, solved, readings, read_out(model, solved, readings));
}

} // namespace hollowtop
