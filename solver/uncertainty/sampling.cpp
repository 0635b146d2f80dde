// SPDX-License-Identifier: MIT
#include "solver/uncertainty/sampling.hpp"

#include "materials/assert.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

std::uint64_t mixed(std::uint64_t z) {
    z += 0x9e3779b97f4a7c15ULL;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
    return z ^ (z >> 31);
}

/// Above 0, up to 1: 53 bits.
double uniform(std::uint64_t bits) { return (static_cast<double>(bits >> 11) + 1) * 0x1p-53; }

double quantile(const std::vector<double>& ordered, double share) {
    const double at = share * static_cast<double>(ordered.size() - 1);
    const auto below = static_cast<std::size_t>(at);
    if (below + 1 >= ordered.size()) return ordered.back();
    const double part = at - static_cast<double>(below);
    return ordered[below] + part * (ordered[below + 1] - ordered[below]);
}

} // namespace

std::vector<double> normals(std::uint64_t seed, std::size_t row, std::size_t count) {
    std::vector<double> values;
    values.reserve(count + 1);
    std::uint64_t state = mixed(seed ^ mixed(row));
    while (values.size() < count) {
        const double u = uniform(state = mixed(state)), v = uniform(state = mixed(state));
        const double radius = std::sqrt(-2 * std::log(u)), angle = 2 * std::numbers::pi * v;
        values.push_back(radius * std::cos(angle));
        values.push_back(radius * std::sin(angle));
    }
    values.resize(count);
    return values;
}

Band band_of(std::vector<double> values) {
    HOLLOWTOP_ASSERT(!values.empty());
    std::sort(values.begin(), values.end());
    return {.low = quantile(values, 0.05), .middle = quantile(values, 0.5), .high = quantile(values, 0.95)};
}

Chance chance_of(std::size_t times, std::size_t samples) {
    const double n = static_cast<double>(samples), share = static_cast<double>(times) / n;
    if (share < least_chance) return {};
    return {.share = share, .error = std::sqrt(share * (1 - share) / n)};
}

} // namespace hollowtop
