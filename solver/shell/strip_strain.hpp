// SPDX-License-Identifier: MIT
#pragma once
/// \file  Free strain (eigenstrain.hpp) that also differs from strip to strip of the top, such as from board to board.
/// Where a strip ends within a cell of the mesh, each point of integration takes the strip it lies in. mm.

#include "solver/shell/shell.hpp"

#include <array>
#include <functional>
#include <vector>

namespace hollowtop {

/// The number of the strip that a place lies in.
using StripAt = std::function<int(Point)>;
/// Free strain [e0; k] of a kind of place in a strip, about the reference surface.
using FreeStrainOfStrip = std::function<std::array<double, 6>(SectionRegion, int strip)>;

std::vector<double> eigenstrain_forces_of_strips(const Shell& shell, const StripAt& strip_at,
                                                 const FreeStrainOfStrip& free_strain_of);

} // namespace hollowtop
