// SPDX-License-Identifier: MIT
#include "solver/readout/mesh_error.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>

namespace hollowtop {
namespace {

// where the answer is not smooth (ends of supports and walls) the error falls as 1/p^2: the higher order's
// own is then 1/16 / (1/9 - 1/16) = 1.3 times the difference; random pieces showed 1.9 of sag at most, and
// of stress 1.6, once 3.2
constexpr double own_error = 2, own_error_of_stress = 2;
constexpr double little_dish = 0.1; // of the sag

/// Where one situation has its greatest answers.
struct Greatest {
    Sag sag;
    std::optional<Dish> dish;
    struct Stress {
        double value = 0;
        std::optional<Point> at{};
    };
    std::array<Stress, 2> stress{}; ///< along and across the grain, on either face
};

Greatest greatest_of(const WholeAnswer& answer, size_t s) {
    Greatest most{.sag = answer.readout.movements[s].sag, .dish = answer.readout.movements[s].dish};
    for (const StressSample& sample : answer.readout.survey[s])
        for (size_t axis = 0; axis < 2; ++axis) {
            const double value = std::max(std::abs(sample.top[axis]), std::abs(sample.bottom[axis]));
            if (value > most.stress[axis].value) most.stress[axis] = {.value = value, .at = sample.at};
        }
    return most;
}

/// Spots asked for one by one and read together.
class Questions {
  public:
    size_t ask(const OutputPoint& output_point) {
        const auto [known, is_new] = index_.try_emplace(output_point, output_points_.size());
        if (is_new) output_points_.push_back(output_point);
        return known->second;
    }
    size_t ask(Point movement_at) {
        return ask(OutputPoint{.kind = OutputPoint::Kind::movement, .axis = 0, .at = movement_at});
    }
    const std::vector<OutputPoint>& all() const { return output_points_; }

  private:
    std::vector<OutputPoint> output_points_;
    std::map<OutputPoint, size_t> index_;
};

void ask_for(const Greatest& most, const Readings& readings, Questions& questions) {
    questions.ask(most.sag.node);
    if (most.dish)
        dish_at(readings.dish.points[most.dish->point], [&](size_t place) {
            questions.ask(readings.dish.places[place].at);
            return 0.0;
        });
    for (int axis = 0; axis < 2; ++axis)
        if (const auto& at = most.stress[static_cast<size_t>(axis)].at)
            for (const OutputPoint::Kind face : {OutputPoint::Kind::top, OutputPoint::Kind::bottom})
                questions.ask(OutputPoint{.kind = face, .axis = axis, .at = *at});
}

} // namespace

MeshError mesh_error(const Model& low, std::span<const ConnectedSituation> low_connected,
                     OutputReader& low_output_points, const WholeAnswer& high,
                     std::span<const SolvedSituation> low_solved) {
    std::vector<Greatest> greatest;
    const size_t n = count_as_they_are(
        high.solved, [](const SolvedSituation& s) -> const SituationPlan& { return s.plan; });
    Questions questions;
    for (size_t s = 0; s < n; ++s) {
        greatest.push_back(greatest_of(high, s));
        ask_for(greatest.back(), high.readings, questions);
    }
    const std::vector<std::vector<double>> values =
        low_solved.empty() ? low_output_points.read(low, questions.all(), low_connected)
                           : read_solved(low, questions.all(), low_solved);
    MeshError error;
    for (size_t s = 0; s < n; ++s) {
        const Greatest& most = greatest[s];
        const auto moved = [&](Point at) { return values[questions.ask(at)][s]; };
        const auto n_points =
            low_connected[s].answer.force.begin() + static_cast<std::ptrdiff_t>(low.points.size());
        const double low_sag =
            -moved(most.sag.node) -
            support_plane(low, {low_connected[s].answer.force.begin(), n_points}).at(most.sag.node);
        if (most.sag.value > 0)
            error.sag_percent = std::max(
                error.sag_percent, own_error * 100 * std::abs(most.sag.at_node - low_sag) / most.sag.value);
        if (most.dish) {
            const double low_dish = dish_at(high.readings.dish.points[most.dish->point], [&](size_t place) {
                return moved(high.readings.dish.places[place].at);
            });
            const double seen = std::max(std::abs(most.dish->value), little_dish * most.sag.value);
            if (seen > 0)
                error.sag_percent = std::max(error.sag_percent,
                                             own_error * 100 * std::abs(most.dish->value - low_dish) / seen);
        }
        constexpr double little_stress = 1e-6; // of the other: rounding
        for (int axis = 0; axis < 2; ++axis) {
            const auto& [value, at] = most.stress[static_cast<size_t>(axis)];
            if (!at || value < little_stress * most.stress[static_cast<size_t>(1 - axis)].value) continue;
            double low_value = 0;
            for (const OutputPoint::Kind face : {OutputPoint::Kind::top, OutputPoint::Kind::bottom})
                low_value = std::max(
                    low_value,
                    std::abs(values[questions.ask(OutputPoint{.kind = face, .axis = axis, .at = *at})][s]));
            error.stress_percent = std::max(error.stress_percent,
                                            own_error_of_stress * 100 * std::abs(low_value - value) / value);
        }
    }
    return error;
}

} // namespace hollowtop
