// SPDX-License-Identifier: MIT
#include "materials/error.hpp"
#include "solver/checks/checks.hpp"
#include "solver/checks/judges.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace hollowtop {
namespace {

constexpr std::size_t most_starts = 4;
constexpr double worth_a_start =
    0.8;                          ///< share of the best that a place of the survey must reach to be refined
constexpr double fine_enough = 1; ///< mm
constexpr double alike = 1e7;     ///< values are one where they differ by less than this share of themselves

double squared_distance(const Point& a, const Point& b) {
    return (a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y);
}

/// Distance of neighbours in the survey, were it an even grid.
double spacing_of(const std::vector<StressSample>& survey) {
    const auto [left, right] = std::minmax_element(
        survey.begin(), survey.end(), [](const auto& a, const auto& b) { return a.at.x < b.at.x; });
    const auto [low, high] = std::minmax_element(
        survey.begin(), survey.end(), [](const auto& a, const auto& b) { return a.at.y < b.at.y; });
    const double length = right->at.x - left->at.x, width = high->at.y - low->at.y;
    const double count = static_cast<double>(survey.size());
    return std::max(std::sqrt(length * width / count), (length + width) / count);
}

/// Places of the survey to start from: the greatest values that lie well apart, the greatest first.
std::vector<std::size_t> starts_of(const std::vector<StressSample>& survey, const std::vector<double>& values,
                                   double apart) {
    // mirror images differ by rounding only: the first of them is taken, on whatever processor
    const double most = std::abs(*std::max_element(values.begin(), values.end()));
    std::vector<double> rounded(values);
    for (double& value : rounded) value = std::round(value / std::max(most, 1e-300) * alike) / alike;
    const double best = *std::max_element(rounded.begin(), rounded.end());
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < rounded.size(); ++i)
        if (rounded[i] >= worth_a_start * best - std::abs(best) / alike) order.push_back(i);
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return rounded[a] > rounded[b]; });
    std::vector<std::size_t> starts;
    for (const std::size_t i : order) {
        if (starts.size() == most_starts || values[i] < worth_a_start * values[order.front()]) break;
        const bool is_near = std::any_of(starts.begin(), starts.end(), [&](std::size_t j) {
            return squared_distance(survey[i].at, survey[j].at) < apart * apart;
        });
        if (!is_near) starts.push_back(i);
    }
    return starts;
}

/// Pattern search (Hooke and Jeeves 1961): step to the best of eight neighbours, else halve the step.
Worst climb(const StressField& field, const std::function<double(const StressSample&)>& metric, Worst best,
            double step) {
    static constexpr std::array<std::array<int, 2>, 8> ways = {
        {{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}}};
    int moves_left = 200; // a bound, never met on a field that has a peak
    while (step >= fine_enough / 2 && moves_left-- > 0) {
        Worst next = best;
        for (const auto& way : ways) {
            const Point to{best.sample.at.x + way[0] * step, best.sample.at.y + way[1] * step};
            if (field.on_top && !field.on_top(to)) continue;
            StressSample sample = field.at(to);
            if (const double value = metric(sample); value > next.value) next = {value, std::move(sample)};
        }
        if (next.value > best.value)
            best = std::move(next);
        else
            step /= 2;
    }
    return best;
}

} // namespace

bool is_more(double value, double than) { return value > than + std::abs(than) / alike; }

Worst worst_of(const StressField& field, const std::function<double(const StressSample&)>& metric) {
    if (field.survey.empty())
        throw Error(ErrorKind::not_computable,
                    Fault{"", "there are no stresses to find the greatest of", ""});
    Worst worst;
    std::vector<double> values(field.survey.size());
    std::transform(field.survey.begin(), field.survey.end(), values.begin(), metric);
    for (std::size_t i = 0; i < values.size(); ++i)
        if (!std::isfinite(values[i])) return {values[i], field.survey[i]}; // the caller refuses it
    if (!field.at) { // the survey alone
        const auto most = std::max_element(values.begin(), values.end()) - values.begin();
        return {values[static_cast<std::size_t>(most)], field.survey[static_cast<std::size_t>(most)]};
    }
    const double spacing = spacing_of(field.survey);
    bool is_first = true;
    for (const std::size_t start : starts_of(field.survey, values, 2 * spacing)) {
        Worst found{values[start], field.survey[start]};
        found = climb(field, metric, std::move(found), spacing / 2);
        if (is_first || is_more(found.value, worst.value)) worst = std::move(found);
        is_first = false;
    }
    return worst;
}

} // namespace hollowtop
