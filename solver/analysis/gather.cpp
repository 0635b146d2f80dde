// SPDX-License-Identifier: MIT
#include "solver/analysis/gather.hpp"

#include "solver/analysis/skin_buckling.hpp"
#include "solver/analysis/walls.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace hollowtop {
namespace {

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
    for (size_t k = 0; k < model.points.size(); ++k) {
        const ContactPoint& point = model.points[k];
        const auto i = static_cast<size_t>(point.support);
        has_points[i] = 1;
        presses[i] = presses[i] || s.point_presses[k];
        if (forces[i].bearing_area_mm2 <= 0 || s.point_force[k] <= 0) continue;
        // mean over what presses within one thickness: harder fibres at a pad's rim yield and hand on their load
        double force = 0, area = 0;
        for (size_t m = 0; m < model.points.size(); ++m) {
            const ContactPoint& near = model.points[m];
            if (near.support != point.support || s.point_force[m] <= 0) continue;
            if (std::hypot(near.at.x - point.at.x, near.at.y - point.at.y) > piece.top.thickness) continue;
            force += s.point_force[m];
            area += near.area;
        }
        if (force / area > forces[i].pressure_MPa) {
            forces[i].pressure_MPa = force / area;
            forces[i].pressure_at = point.at;
        }
    }
    for (size_t i = 0; i < forces.size(); ++i) forces[i].lifts = has_points[i] && !presses[i];
    return forces;
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

std::vector<const SolvedSituation*> pointers_to(const std::vector<SolvedSituation>& solved) {
    std::vector<const SolvedSituation*> pointers;
    for (const SolvedSituation& s : solved) pointers.push_back(&s);
    return pointers;
}

void soften(StressSample& sample, double softening) {
    for (size_t i = 0; i < 3; ++i) {
        sample.top[i] /= softening;
        sample.bottom[i] /= softening;
    }
    for (double& v : sample.shear) v /= softening;
}

} // namespace

StressSample stress_in(const Shell& shell, const SolvedSituation& situation, const StrainMean& mean) {
    StressSample sample = stress_of(shell, mean, situation.dofs);
    soften(sample, situation.plan.softening);
    return sample;
}

std::vector<std::vector<StressSample>> stresses_in(const Shell& shell, std::span<const SolvedSituation* const> situations,
                                                   const std::vector<StrainMean>& means) {
    std::vector<std::span<const double>> fields;
    for (const SolvedSituation* s : situations) fields.emplace_back(s->dofs);
    std::vector<std::vector<StressSample>> rows = stresses_of(shell, means, fields);
    for (size_t s = 0; s < rows.size(); ++s)
        for (StressSample& sample : rows[s]) soften(sample, situations[s]->plan.softening);
    return rows;
}

SituationResponse situation_response(const Piece& piece, const std::shared_ptr<const Model>& model, const SolvedSituation& s,
                                     const ReadAt& read, std::vector<StressSample> survey) {
    SituationResponse row;
    row.name = s.plan.name;
    row.duration = s.plan.duration;
    row.stage = s.plan.stage;
    const SupportPlane plane = support_plane(*model, s);
    const Extreme sag = sag_of(model->shell, s, plane);
    row.sag_mm = sag.value;
    row.sag_at = sag.at;
    if (const auto dish = dish_of(model->shell, read.dish, s)) {
        row.dish_mm = std::abs(dish->value);
        row.dish_at = dish->at;
        row.dish_skin_mm = model->shell.field.recesses[static_cast<size_t>(dish->recess)].skin;
    }
    row.applied_N = s.applied.force;
    row.supports = support_forces(piece, *model, s);
    row.equilibrium_error = s.equilibrium_error;
    row.residual = s.residual;
    row.tipping_factor = s.tipping_factor;
    row.tipping_factor_solid = s.tipping_factor_solid;
    row.stress.survey = std::move(survey);
    for (const WallPoint& point : read.walls) row.walls.push_back(wall_sample(model->shell, point, s.dofs, s.plan.softening));
    if (read.quick) return row;
    row.probes = probe_readings(piece, *model, s, plane);
    const auto kept = std::make_shared<const SolvedSituation>(s);
    row.stress.at = [model, kept, means_at = read.kept ? read.kept : std::make_shared<MeansAt>()](Point p) {
        auto known = means_at->find({p.x, p.y});
        if (known == means_at->end()) known = means_at->emplace(std::pair{p.x, p.y}, strain_mean(model->shell, p)).first;
        return stress_in(model->shell, *kept, known->second);
    };
    row.stress.on_top = [model](Point p) { return region_at(model->shell.field, p) != outside; };
    return row;
}

Response gather_response(const Piece& piece, const std::shared_ptr<const Model>& model, const std::vector<SolvedSituation>& solved,
                         const std::vector<StrainMean>& means, std::shared_ptr<MeansAt> means_at) {
    Response response;
    response.span = span_of(*model);
    const std::vector<DishPoint> dish_grid = dish_points(model->shell);
    const std::vector<WallPoint> wall_grid = wall_points(model->shell);
    const std::vector<SkinPoints> skins = skin_points(model->shell);
    if (!means_at) means_at = std::make_shared<MeansAt>();
    std::vector<std::vector<StressSample>> surveys = stresses_in(model->shell, pointers_to(solved), means);
    for (size_t i = 0; i < solved.size(); ++i) {
        const SolvedSituation& s = solved[i];
        response.situations.push_back(situation_response(piece, model, s, {.dish = dish_grid, .walls = wall_grid, .kept = means_at}, std::move(surveys[i])));
        response.situations.back().buckling_factor = skin_buckling(model->shell, skins, s);
    }
    return response;
}

MeshError mesh_error(const Model& low, const std::vector<SolvedSituation>& low_solved, const Model& high,
                     const std::vector<SolvedSituation>& high_solved, const std::vector<StrainMean>& means) {
    MeshError error;
    // where the answer is not smooth (ends of supports and walls) the error falls as 1/p^2: the higher order's own is then
    // 1/16 / (1/9 - 1/16) = 1.3 times the difference; random pieces showed 1.45 of sag at most, and of stress 1.6, once 3.2
    constexpr double own_error = 1.5, own_error_of_stress = 2;
    constexpr double little_dish = 0.1; // of the sag
    const std::vector<DishPoint> grid = dish_points(high.shell);
    const std::vector<std::vector<StressSample>> surveys = stresses_in(high.shell, pointers_to(high_solved), means);
    for (size_t s = 0; s < high_solved.size(); ++s) {
        const SupportPlane low_plane = support_plane(low, low_solved[s]), high_plane = support_plane(high, high_solved[s]);
        const Extreme sag = sag_of(high.shell, high_solved[s], high_plane);
        const double low_sag = -movement_at(low.shell, low_solved[s].dofs, sag.at) - low_plane.at(sag.at);
        if (sag.value > 0) error.sag_percent = std::max(error.sag_percent, own_error * 100 * std::abs(sag.value - low_sag) / sag.value);
        const auto dish = dish_of(high.shell, grid, high_solved[s]), low_dish = dish_of(low.shell, grid, low_solved[s]);
        const double seen = dish ? std::max(std::abs(dish->value), little_dish * sag.value) : 0;
        if (seen > 0) error.sag_percent = std::max(error.sag_percent, own_error * 100 * std::abs(dish->value - low_dish->value) / seen);
        // the greatest stresses, from the survey
        const StrainMean* worst[2] = {nullptr, nullptr};
        double most[2] = {0, 0};
        for (size_t m = 0; m < means.size(); ++m) {
            const StrainMean& mean = means[m];
            const StressSample& sample = surveys[s][m];
            for (size_t axis = 0; axis < 2; ++axis) {
                const double value = std::max(std::abs(sample.top[axis]), std::abs(sample.bottom[axis]));
                if (value > most[axis]) {
                    most[axis] = value;
                    worst[axis] = &mean;
                }
            }
        }
        for (size_t axis = 0; axis < 2; ++axis) {
            if (!worst[axis]) continue;
            const StressSample sample = stress_in(low.shell, low_solved[s], strain_mean(low.shell, worst[axis]->at));
            const double value = std::max(std::abs(sample.top[axis]), std::abs(sample.bottom[axis]));
            error.stress_percent = std::max(error.stress_percent, own_error_of_stress * 100 * std::abs(value - most[axis]) / most[axis]);
        }
    }
    return error;
}

} // namespace hollowtop
