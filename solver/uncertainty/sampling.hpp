// SPDX-License-Identifier: MIT
#pragma once
/// \file  Random numbers that are the same on every machine and for every number of threads, and what is read
/// of a sample. Sources: splitmix64, Steele, Lea and Flood 2014; Box and Muller 1958.

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace hollowtop {

/// Normal variables, mean 0 and deviation 1: of sample `row` the `count` first. A sample does not depend on how
/// many others are drawn.
std::vector<double> normals(std::uint64_t seed, std::size_t row, std::size_t count);

/// 5, 50 and 95 in a hundred lie below these.
struct Band {
    double low = 0, middle = 0, high = 0;
};
/// By linear interpolation between the ordered values; takes them.
Band band_of(std::vector<double> values);

/// How often it happens. Shares under one in a thousand are not told as a number: neither the sample nor what
/// is known of the tails bears it.
struct Chance {
    std::optional<double> share{}; ///< empty: under one in a thousand
    double error = 0;              ///< of the share, one standard deviation of the count
};
inline constexpr double least_chance = 1e-3;
Chance chance_of(std::size_t times, std::size_t samples);

} // namespace hollowtop
