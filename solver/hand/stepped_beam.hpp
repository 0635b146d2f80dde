// SPDX-License-Identifier: MIT
#pragma once
/// \file  A beam strip of steps on two supports, by hand: what an engineer would reckon on paper, without a mesh.
///
///      left.at             right.at        w(x) = integral of M m / EI + V v / GA       (unit loads, Mohr 1874;
///   ======#####################======      Timoshenko, Strength of Materials Part I, 1955, arts. 39 and 77)
///         ^                   ^            M is a parabola and m a straight line between breaks: Simpson's rule is exact.
///
/// Supports may hold the strip against turning: by a spring, and a support that only presses lets go on one
/// side: its pressure then is a triangle within its width. N, mm, MPa; x along the strip, movements downward
/// +.

#include <array>
#include <vector>

namespace hollowtop {

struct BeamStep {
    double from = 0, to = 0;
    double EI = 0; ///< N mm2
    double GA = 0; ///< N, with its shear correction
};

/// An evenly spread load; `from` == `to` is a point.
struct BeamStripLoad {
    double from = 0, to = 0, force = 0;
};

struct BeamStripSupport {
    double at = 0;
    double turning = 0;   ///< stiffness against turning, N mm a radian; 0 is a knife edge
    double width = 0;     ///< of contact along the strip
    bool lets_go = false; ///< it only presses
};

/// The steps cover the strip from end to end, in order.
struct SteppedBeam {
    std::vector<BeamStep> steps;
    std::vector<BeamStripLoad> loads;
    BeamStripSupport left, right;
};

struct SteppedBeamAnswer {
    std::array<double, 2> force{};  ///< of the supports, upward, N
    std::array<double, 2> moment{}; ///< that holds the strip back at each, hogging +, N mm
};

SteppedBeamAnswer solve_stepped_beam(const SteppedBeam& strip);

/// Downward movement at x, against the straight line through both supports.
double beam_movement(const SteppedBeam& strip, const SteppedBeamAnswer& answer, double x);

} // namespace hollowtop
