// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the tables know of a wood before a board of it is tested.

#include "materials/sourced.hpp"
#include "materials/wood.hpp"
#include "solver/boardtest/board.hpp"

#include <optional>

namespace hollowtop {

struct Handbook {
    Gauged E_along{};       ///< free of shear, 12 %, MPa; its error is the scatter between boards
    Gauged E_across{};      ///< in the plane of the board as sawn
    Gauged E_over_G{};      ///< bending flat, along the grain
    Gauged across_over_G{}; ///< the same of a strip with the grain across
    double poisson_product = 0;
    Gauged density_kg_m3{}; ///< at 12 %
    Message source{};
};

/// Means from the table of woods, scatter from Wood Handbook FPL-GTR-190 Table 5-6. Throws Error(input)
/// where the wood has no modulus.
Handbook handbook_of(const materials::Wood& wood, double ring_angle_deg);

/// Where no wood is named: E/G 15, evenly likely from 10 to 20 (Wood Handbook Table 5-1, its range;
/// judgement).
inline constexpr Gauged usual_E_over_G{.value = 15, .error = 2.9};

} // namespace hollowtop
