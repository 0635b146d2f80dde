// SPDX-License-Identifier: MIT
#pragma once
/// \file  Loads as nodal forces, integrated exactly over the part of the top they rest on. N, downward loads
/// act against +w.

#include "solver/piece/piece.hpp"
#include "solver/shell/shell.hpp"

#include <vector>

namespace hollowtop {

/// Acceleration of free fall, m/s2: General Conference on Weights and Measures 1901, standard value.
inline constexpr double standard_gravity = 9.80665;

/// Wood is held against the mean pressure over what presses, but over no more of it than this far from one of
/// its edges: a wide support or a leaning load presses unevenly (judgement).
inline constexpr double bearing_depth = 30; // mm

/// A place that a load rests on, and its share of the downward force.
struct LoadPoint {
    int cell = 0;
    Point at;
    double force = 0;
};

/// How a clamp presses: on the top face with its upper pad, upwards with its lower one. The pressures are
/// linear and vanish at the pad's edge or corner that turns away, as when the clamp is screwed up until all
/// of both pads just presses:
/// pressure = force / area (1 + lean.x x / (half size) + lean.y y / (half size)), x and y from the pad's
/// middle.
struct ClampForces {
    double upper = 0, lower = 0; ///< N; upper - lower is what hangs on it
    Point upper_lean{}, lower_lean{};
};
ClampForces clamp_forces(const ClampLoad& clamp);

/// What a load presses on.
struct Pressed {
    std::string by; ///< empty, or the part of the load that presses: "upper pad"
    Point at{};
    double force = 0, area = 0;
    double pressure =
        0; ///< greatest mean over 30 mm from an edge, MPa; 0 for points and lines, which have no area
    double size_x = 0, size_y = 0; ///< as drawn
    double on_top = 1;             ///< share of the load's own area or length that lies on the top
};

/// Quadrature points of one load over the part of the top it rests on. Throws Error(input) where it lies
/// wholly off the top.
std::vector<LoadPoint> load_points(const Shell& shell, const Load& load, const std::string& place);

/// `points`: those of the load.
std::vector<Pressed> pressed_by(const Shell& shell, const Load& load, const std::vector<LoadPoint>& points);

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
