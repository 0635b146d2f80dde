// SPDX-License-Identifier: MIT
#pragma once
/// \file  Loads as nodal forces, integrated exactly over the part of the top they rest on. N, downward loads act against +w.

#include "solver/piece/piece.hpp"
#include "solver/shell/shell.hpp"

#include <vector>

namespace hollowtop {

/// Acceleration of free fall, m/s2: General Conference on Weights and Measures 1901, standard value.
inline constexpr double standard_gravity = 9.80665;

/// A place that a load rests on, and its share of the downward force.
struct LoadPoint {
    int cell = 0;
    Point at;
    double force = 0;
};

/// Quadrature points of one load over the part of the top it rests on. Throws Error(input) where it lies wholly off the top.
std::vector<LoadPoint> load_points(const Shell& shell, const Load& load, const std::string& place);

/// Nodal forces over all dofs of the shell.
std::vector<double> nodal_forces(const Shell& shell, const std::vector<LoadPoint>& points);

/// Nodal forces of the top's own weight.
std::vector<double> weight_forces(const Shell& shell);

/// Total downward force and its moments about the origin: sum f, sum f x, sum f y.
struct Resultant {
    double force = 0, x_moment = 0, y_moment = 0;
};
Resultant resultant_of(const Shell& shell, const std::vector<double>& forces);

/// Weight of the wood that the recesses took away.
Resultant hollowed_weight(const Shell& shell);

/// Volume of the top, mm3.
double volume_of(const ThicknessField& field, const Mesh& mesh);

} // namespace hollowtop
