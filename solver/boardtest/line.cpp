// SPDX-License-Identifier: MIT
#include "solver/boardtest/line.hpp"

#include "materials/error.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

/// y = offset + slope (x - mean).
struct Fit {
    double mean_x = 0, mean_y = 0, slope = 0, sxx = 0, squares = 0;
    std::size_t n = 0;
    double at(double x) const { return mean_y + slope * (x - mean_x); }
};

Fit fit_without(const std::vector<LoadReading>& readings, std::optional<std::size_t> without) {
    Fit fit;
    const auto each = [&](auto&& take) {
        for (std::size_t i = 0; i < readings.size(); ++i)
            if (i != without) take(readings[i]);
    };
    each([&](const LoadReading& r) {
        ++fit.n;
        fit.mean_x += r.load_N;
        fit.mean_y += r.deflection_mm;
    });
    const auto n = static_cast<double>(fit.n);
    fit.mean_x /= n;
    fit.mean_y /= n;
    double sxy = 0;
    each([&](const LoadReading& r) {
        fit.sxx += (r.load_N - fit.mean_x) * (r.load_N - fit.mean_x);
        sxy += (r.load_N - fit.mean_x) * (r.deflection_mm - fit.mean_y);
    });
    if (fit.sxx > 0) fit.slope = sxy / fit.sxx;
    each([&](const LoadReading& r) { fit.squares += std::pow(r.deflection_mm - fit.at(r.load_N), 2); });
    return fit;
}

/// Greatest sum of squares over variance that chance leaves in 19 of 20 cases: chi-squared by Wilson and
/// Hilferty (Proceedings of the National Academy of Sciences 17, 1931).
double most_by_chance(std::size_t freedom) {
    const auto f = static_cast<double>(freedom);
    return f * std::pow(1 - 2 / (9 * f) + 1.645 * std::sqrt(2 / (9 * f)), 3);
}

std::optional<OffTheLine> off_of(const std::vector<LoadReading>& readings, double gauge) {
    constexpr double far = 4; // standard deviations
    std::optional<OffTheLine> worst;
    double worst_t = far;
    if (readings.size() < 4) return worst;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        const Fit others = fit_without(readings, i);
        if (!(others.sxx > 0)) continue;
        const double x = readings[i].load_N - others.mean_x, n = static_cast<double>(others.n);
        const double variance = std::max(others.squares / (n - 2), gauge * gauge);
        const double off = readings[i].deflection_mm - others.at(readings[i].load_N);
        const double t = std::abs(off) / std::sqrt(variance * (1 + 1 / n + x * x / others.sxx));
        if (t <= worst_t) continue;
        worst_t = t;
        worst = OffTheLine{.index = i, .off_mm = off, .slope_without = others.slope};
    }
    return worst;
}

/// Deflection = a + b x + c x^2: the slope at the last load over that at the first.
std::optional<double> curve_of(const std::vector<LoadReading>& readings, const Fit& fit, double gauge) {
    constexpr double least_share = 0.03, far = 3; // standard deviations
    if (readings.size() < 4) return std::nullopt;
    // z: x^2 less what a line of x explains; c and its error by the part that is left
    const auto [low, high] = std::minmax_element(
        readings.begin(), readings.end(), [](const auto& a, const auto& b) { return a.load_N < b.load_N; });
    std::vector<LoadReading> squared;
    for (const LoadReading& r : readings)
        squared.push_back({r.load_N, (r.load_N - fit.mean_x) * (r.load_N - fit.mean_x)});
    const Fit of_square = fit_without(squared, std::nullopt);
    if (!(of_square.squares > 1e-9 * fit.sxx * fit.sxx / static_cast<double>(fit.n))) return std::nullopt;
    double zy = 0;
    for (std::size_t i = 0; i < readings.size(); ++i)
        zy += (squared[i].deflection_mm - of_square.at(squared[i].load_N)) * readings[i].deflection_mm;
    const double c = zy / of_square.squares;
    const double left = std::max(0.0, fit.squares - c * zy);
    const double sigma = std::max(gauge, std::sqrt(left / static_cast<double>(readings.size() - 3)));
    const double change = 2 * c * (high->load_N - low->load_N) / fit.slope;
    const bool is_sure = std::abs(c) > far * sigma / std::sqrt(of_square.squares);
    return is_sure && std::abs(change) > least_share ? std::optional(change) : std::nullopt;
}

/// Unloading reads more than loading at the same load: the mean gap.
std::optional<double> gap_of(const std::vector<LoadReading>& readings, double gauge) {
    constexpr double far = 3; // standard deviations
    double sum = 0;
    int n = 0;
    const auto top = std::max_element(readings.begin(), readings.end(),
                                      [](const auto& a, const auto& b) { return a.load_N < b.load_N; });
    for (auto up = readings.begin(); up != top; ++up)
        for (auto down = top; down != readings.end(); ++down)
            if (down != top && std::abs(down->load_N - up->load_N) <= 1e-6 * top->load_N) {
                sum += down->deflection_mm - up->deflection_mm;
                ++n;
            }
    if (n == 0) return std::nullopt;
    const double gap = sum / n;
    return std::abs(gap) > far * gauge * std::sqrt(2.0 / n) ? std::optional(gap) : std::nullopt;
}

} // namespace

Line line_through(const std::vector<LoadReading>& given, double gauge) {
    if (given.size() < 2)
        throw Error(
            ErrorKind::input,
            Fault{"", "a line needs two readings at least",
                  "load the board in four or five steps and read the gauge at each, no load among them"});
    std::vector<LoadReading> readings = given;
    Fit fit = fit_without(readings, std::nullopt);
    if (!(fit.sxx > 0))
        throw Error(ErrorKind::input, Fault{"", "every reading is of the same load",
                                            "read the gauge at two loads at least, better at five"});
    Line line;
    line.counts_down = fit.slope < 0;
    if (line.counts_down) {
        for (LoadReading& r : readings) r.deflection_mm = -r.deflection_mm;
        fit = fit_without(readings, std::nullopt);
    }
    const double error_by_gauge = gauge / std::sqrt(fit.sxx);
    if (!(fit.slope > 2 * error_by_gauge))
        throw Error(ErrorKind::input,
                    Fault{"", "the gauge hardly moved under the loads: nothing can be told from that",
                          "load more, or use a longer span or a finer gauge"});
    line.slope = fit.slope;
    line.offset_mm = fit.at(0);
    const std::size_t freedom = readings.size() - 2;
    if (freedom > 0) {
        line.scatter_mm = std::sqrt(fit.squares / static_cast<double>(freedom));
        line.scatters = fit.squares > gauge * gauge * most_by_chance(freedom);
    }
    line.slope_error = (line.scatters ? line.scatter_mm : gauge) / std::sqrt(fit.sxx);
    line.off = off_of(readings, gauge);
    if (!line.off) line.curves = curve_of(readings, fit, gauge);
    if (!line.off) line.gap_mm = gap_of(readings, gauge);
    return line;
}

} // namespace hollowtop
