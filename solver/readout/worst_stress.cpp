// SPDX-License-Identifier: MIT
#include "solver/readout/worst_stress.hpp"

#include "materials/error.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace hollowtop {
namespace {

constexpr std::size_t most_starts = 4;
constexpr double worth_a_start =
    0.8;                          ///< share of the best that a place of the survey must reach to be refined
constexpr double fine_enough = 1; ///< mm
constexpr double mirrored =
    1e-5; ///< values of places apart are mirror images where they differ by less than this share
constexpr double alike = 1e7; ///< values are one where they differ by less than this share of themselves

double squared_distance(const Point& a, const Point& b) {
    return (a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y);
}

/// Distance of neighbours in the survey, were it an even grid.
double spacing_of(const std::vector<StressSample>& survey) {
    Rectangle box{survey.front().at.x, survey.front().at.x, survey.front().at.y, survey.front().at.y};
    for (const StressSample& sample : survey)
        box = {std::min(box.x0, sample.at.x), std::max(box.x1, sample.at.x), std::min(box.y0, sample.at.y),
               std::max(box.y1, sample.at.y)};
    const double length = box.x1 - box.x0, width = box.y1 - box.y0;
    const double count = static_cast<double>(survey.size());
    return std::max(std::sqrt(length * width / count), (length + width) / count);
}

/// A place of the survey, and what is found there.
struct Candidate {
    std::size_t index;
    double rounded;
};

/// Places of the survey to start from: the greatest values that lie well apart, the greatest first.
std::vector<Candidate> starts_of(const std::vector<StressSample>& survey, const std::vector<double>& values,
                                 double apart) {
    // mirror images differ by rounding only: the first of them is taken, on whatever processor
    const double most = *std::max_element(values.begin(), values.end()),
                 scale = std::max(std::abs(most), 1e-300);
    const double worth = most > 0 ? worth_a_start * most : most;
    std::vector<Candidate> candidates;
    for (std::size_t i = 0; i < values.size(); ++i)
        if (values[i] >= worth - 2 * scale / alike)
            candidates.push_back({i, std::round(values[i] / scale * alike) / alike});
    std::stable_sort(candidates.begin(), candidates.end(),
                     [](const Candidate& a, const Candidate& b) { return a.rounded > b.rounded; });
    std::vector<Candidate> starts;
    for (const Candidate& candidate : candidates) {
        if (starts.size() == most_starts) break;
        // the same value once more is a mirror image, whose peak is as high
        const bool is_known = std::any_of(starts.begin(), starts.end(), [&](const Candidate& start) {
            return std::abs(candidate.rounded - start.rounded) < mirrored ||
                   squared_distance(survey[candidate.index].at, survey[start.index].at) < apart * apart;
        });
        if (!is_known) starts.push_back(candidate);
    }
    return starts;
}

/// A place on its way up.
struct Hill {
    double value = 0;
    const StressSample* sample = nullptr;
    double fall = 0;      ///< the greatest difference of neighbours, seen at the last step
    int moves_left = 200; ///< a bound, never met on a field that has a peak
};

/// Pattern search (Hooke and Jeeves 1961) at one step: to the best of eight neighbours, until none is better.
void climb(const StressField& field, const StressMetric& metric, Hill& hill, double step) {
    struct Heading {
        int x, y;
    };
    static constexpr std::array<Heading, 8> ways = {
        {{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}}};
    hill.fall = 0;
    Heading came{0, 0};
    while (hill.moves_left-- > 0) {
        const Hill from = hill;
        Heading taken{0, 0};
        for (const Heading& way : ways) {
            // the neighbours of the place before were no better than this one
            const bool is_seen = (came.x != 0 || came.y != 0) && std::abs(came.x + way.x) <= 1 &&
                                 std::abs(came.y + way.y) <= 1;
            if (is_seen) continue;
            const StressSample* const sample =
                field.at({from.sample->at.x + way.x * step, from.sample->at.y + way.y * step});
            if (!sample) continue;
            const double value = metric(*sample);
            hill.fall = std::max(hill.fall, std::abs(value - from.value));
            if (value > hill.value) {
                hill.value = value;
                hill.sample = sample;
                taken = way;
            }
        }
        if (taken.x == 0 && taken.y == 0) return;
        came = taken;
    }
}

} // namespace

bool is_more(double value, double than) { return value > than + std::abs(than) / alike; }

Worst worst_of(const StressField& field, const StressMetric& metric) {
    if (field.survey.empty())
        throw Error(ErrorKind::not_computable,
                    Fault{"", "there are no stresses to find the greatest of", ""});
    std::vector<double> values(field.survey.size());
    metric(field.survey, values);
    for (std::size_t i = 0; i < values.size(); ++i)
        if (!std::isfinite(values[i])) return {values[i], field.survey[i]}; // the caller refuses it
    if (!field.at) {                                                        // the survey alone
        const auto most = std::max_element(values.begin(), values.end()) - values.begin();
        return {values[static_cast<std::size_t>(most)], field.survey[static_cast<std::size_t>(most)]};
    }
    const double spacing = spacing_of(field.survey);
    std::vector<Hill> hills;
    for (const Candidate& start : starts_of(field.survey, values, 2 * spacing))
        hills.push_back({.value = values[start.index], .sample = &field.survey[start.index]});
    double step = spacing / 2;
    while (step >= fine_enough / 2) {
        for (Hill& hill : hills) climb(field, metric, hill, step);
        // what is left to go is less than this step, and rises no faster than the field has fallen
        double best = hills.front().value;
        for (const Hill& hill : hills) best = std::max(best, hill.value);
        std::erase_if(hills, [&](const Hill& hill) { return hill.value + hill.fall < best; });
        step /= 2;
    }
    Worst worst{hills.front().value, *hills.front().sample};
    for (const Hill& hill : hills)
        if (is_more(hill.value, worst.value)) worst = {hill.value, *hill.sample};
    return worst;
}

} // namespace hollowtop
