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

/// Puts what is below `from` in no order.
double quantile(std::vector<double>& values, double share, std::size_t from) {
    const double at = share * static_cast<double>(values.size() - 1);
    const auto below = static_cast<std::size_t>(at);
    const auto here = values.begin() + static_cast<std::ptrdiff_t>(below);
    std::nth_element(values.begin() + static_cast<std::ptrdiff_t>(from), here, values.end());
    if (below + 1 >= values.size()) return *here;
    const double next = *std::min_element(here + 1, values.end()), part = at - static_cast<double>(below);
    return *here + part * (next - *here);
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
    const auto at = [&](double share) { // all that lies before the place is smaller by now
        return static_cast<std::size_t>(share * static_cast<double>(values.size() - 1));
    };
    const double low = quantile(values, 0.05, 0), middle = quantile(values, 0.5, at(0.05)),
                 high = quantile(values, 0.95, at(0.5));
    return {.low = low, .middle = middle, .high = high};
}

Chance chance_of(std::size_t times, std::size_t samples) {
    const double n = static_cast<double>(samples), share = static_cast<double>(times) / n;
    if (share < least_chance) return {};
    return {.share = share, .error = std::sqrt(share * (1 - share) / n)};
}

} // namespace hollowtop
