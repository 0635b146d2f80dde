// SPDX-License-Identifier: MIT
#pragma once
/// \file  Loads as nodal forces, integrated exactly over the part of the top they rest on. N, downward loads act against +w.

#include "solver/piece/piece.hpp"
#include "solver/shell/shell.hpp"

#include <vector>

namespace hollowtop {

/// Acceleration of free fall, m/s2: General Conference on Weights and Measures 1901, standard value.
inline constexpr double standard_gravity = 9.80665;

/// Nodal forces of one load over all dofs of the shell. Throws Error(input) where a load lies wholly off the top.
std::vector<double> nodal_forces(const Shell& shell, const Load& load, const std::string& place);

/// Nodal forces of the top's own weight.
std::vector<double> weight_forces(const Shell& shell);

/// Total downward force and its moments about the origin: sum f, sum f x, sum f y.
struct Resultant {
    double force = 0, x_moment = 0, y_moment = 0;
};
Resultant resultant_of(const Shell& shell, const std::vector<double>& forces);

/// Volume of the top, mm3.
double volume_of(const ThicknessField& field, const Mesh& mesh);

} // namespace hollowtop
