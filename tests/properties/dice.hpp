// SPDX-License-Identifier: MIT
#pragma once
/// \file  Chance for the tests, the same on every machine.

#include <cstdint>
#include <random>

namespace hollowtop {

/// Draws that do not depend on the standard library's distributions.
class Dice {
  public:
    explicit Dice(std::uint32_t seed) : random_(seed) {}
    double between(double low, double high) {
        return low + (high - low) * static_cast<double>(random_()) / 4294967296.0;
    }
    int up_to(int n) { return static_cast<int>(random_() % static_cast<std::uint32_t>(n)); } ///< 0 .. n-1
    bool once_in(int n) { return up_to(n) == 0; }

  private:
    std::mt19937 random_;
};

} // namespace hollowtop
