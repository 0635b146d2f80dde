// SPDX-License-Identifier: MIT
#include "solver/analysis/gather.hpp"

#include <algorithm>
#include <cmath>
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
    pointers.reserve(solved.size());
    for (const SolvedSituation& s : solved) pointers.push_back(&s);
    return pointers;
}

FieldsAbreast abreast(std::span<const SolvedSituation* const> situations) {
    std::vector<std::span<const double>> fields;
    fields.reserve(situations.size());
    for (const SolvedSituation* s : situations) fields.emplace_back(s->dofs);
    return FieldsAbreast(fields);
}

void soften(StressSample& sample, double softening) {
    for (size_t i = 0; i < 3; ++i) {
        sample.top[i] /= softening;
        sample.bottom[i] /= softening;
    }
    for (double& v : sample.shear) v /= softening;
}

std::vector<std::vector<StressSample>> softened(std::vector<std::vector<StressSample>> rows, std::span<const SolvedSituation* const> situations) {
    for (size_t s = 0; s < rows.size(); ++s)
        for (StressSample& sample : rows[s]) soften(sample, situations[s]->plan.softening);
    return rows;
}

/// Stresses at any point in every situation: one check after the other climbs the same hills.
class StressesAt {
  public:
    StressesAt(std::shared_ptr<const Model> model, const std::vector<SolvedSituation>& solved, std::shared_ptr<const FieldsAbreast> fields, std::shared_ptr<MeansAt> means)
        : model_(std::move(model)), means_(std::move(means)), fields_(std::move(fields)) {
        for (const SolvedSituation& s : solved) softening_.push_back(s.plan.softening);
    }
    bool on_top(Point p) { return means_->on_top(number_of(p)); }
    const StressSample& at(Point p, size_t situation) {
        const size_t number = number_of(p), n = softening_.size();
        if (number >= place_.size()) place_.resize(means_->size(), nowhere);
        if (place_[number] == nowhere) {
            place_[number] = samples_.size();
            samples_.resize(samples_.size() + n);
            const std::span<StressSample> fresh{samples_.data() + place_[number], n};
            fields_->stresses(model_->shell, means_->mean(model_->shell, p, number), fresh);
            for (size_t s = 0; s < n; ++s) soften(fresh[s], softening_[s]);
        }
        return samples_[place_[number] + situation];
    }

  private:
    static constexpr size_t nowhere = static_cast<size_t>(-1);

    size_t number_of(Point p) { // whether it is on the top is asked first, then what is there
        if (!last_ || !(last_->first == p)) last_.emplace(p, means_->number_of(model_->shell, p));
        return last_->second;
    }

    std::shared_ptr<const Model> model_;
    std::shared_ptr<MeansAt> means_;
    std::shared_ptr<const FieldsAbreast> fields_;
    std::vector<double> softening_;
    std::optional<std::pair<Point, size_t>> last_;
    std::vector<size_t> place_;          ///< of a point's samples, by its number
    std::vector<StressSample> samples_; ///< one a situation
};

} // namespace

StressSample stress_in(const Shell& shell, const SolvedSituation& situation, const StrainMean& mean) {
    StressSample sample = stress_of(shell, mean, situation.dofs);
    soften(sample, situation.plan.softening);
    return sample;
}

std::vector<std::vector<StressSample>> stresses_in(const Shell& shell, std::span<const SolvedSituation* const> situations,
                                                   const std::vector<StrainMean>& means) {
    return softened(stresses_of(shell, means, abreast(situations)), situations);
}

SituationResponse situation_response(const Piece& piece, const Model& model, const SolvedSituation& s,
                                     const DishGrid& dish_places, std::span<const WallPoint> walls, std::vector<StressSample> survey) {
    SituationResponse row;
    row.name = s.plan.name;
    row.duration = s.plan.duration;
    row.stage = s.plan.stage;
    const SupportPlane plane = support_plane(model, s);
    const Sag sag = sag_of(model.shell, s, plane);
    row.sag_mm = sag.value;
    row.sag_at = sag.at;
    if (const auto dish = dish_of(model.shell, dish_places, s)) {
        row.dish_mm = std::abs(dish->value);
        row.dish_at = dish->at;
        row.dish_skin_mm = model.shell.field.recesses[static_cast<size_t>(dish->recess)].skin;
    }
    row.applied_N = s.applied.force;
    row.supports = support_forces(piece, model, s);
    row.equilibrium_error = s.equilibrium_error;
    row.residual = s.residual;
    row.tipping_factor = s.tipping_factor;
    row.tipping_factor_solid = s.tipping_factor_solid;
    row.stress.survey = std::move(survey);
    for (const WallPoint& point : walls) row.walls.push_back(wall_sample(model.shell, point, s.dofs, s.plan.softening));
    return row;
}

size_t MeansAt::number_of(const Shell& shell, Point point) {
    const auto [known, is_new] = number_.try_emplace(point, known_.size());
    if (is_new) known_.push_back({.on_top = region_at(shell.field, point) != outside});
    return known->second;
}

const StrainMean& MeansAt::mean(const Shell& shell, Point point, size_t number) {
    std::optional<StrainMean>& mean = known_[number].mean;
    if (!mean) mean = strain_mean(shell, point);
    return *mean;
}

Readings readings_of(const Shell& shell) {
    return {.survey = survey_means(shell), .dish = dish_grid(shell), .walls = wall_points(shell), .skins = skin_points(shell)};
}

Surveys surveys_of(const Model& model, const std::vector<SolvedSituation>& solved, const Readings& readings) {
    const std::vector<const SolvedSituation*> situations = pointers_to(solved);
    Surveys surveys{.rows = {}, .fields = std::make_shared<const FieldsAbreast>(abreast(situations))};
    surveys.rows = softened(stresses_of(model.shell, readings.survey, *surveys.fields), situations);
    return surveys;
}

Response gather_response(const Piece& piece, const std::shared_ptr<const Model>& model, const std::vector<SolvedSituation>& solved,
                         const Readings& readings, Surveys surveys, std::shared_ptr<MeansAt> means_at) {
    Response response;
    response.span = span_of(*model);
    const auto stresses = std::make_shared<StressesAt>(model, solved, std::move(surveys.fields), means_at ? std::move(means_at) : std::make_shared<MeansAt>());
    for (size_t i = 0; i < solved.size(); ++i) {
        const SolvedSituation& s = solved[i];
        SituationResponse& row = response.situations.emplace_back(situation_response(piece, *model, s, readings.dish, readings.walls, std::move(surveys.rows[i])));
        row.probes = probe_readings(piece, *model, s, support_plane(*model, s));
        row.stress.at = [stresses, i](Point p) { return stresses->at(p, i); };
        row.stress.on_top = [stresses](Point p) { return stresses->on_top(p); };
        row.buckling_factor = skin_buckling(model->shell, readings.skins, s);
    }
    return response;
}

Response gather_response(const Piece& piece, const std::shared_ptr<const Model>& model, const std::vector<SolvedSituation>& solved, const Readings& readings) {
    return gather_response(piece, model, solved, readings, surveys_of(*model, solved, readings));
}

} // namespace hollowtop
