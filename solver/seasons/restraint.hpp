// SPDX-License-Identifier: MIT
#pragma once
/// \file  Wood that wants to move and may not: stress where it is held, forces of the screws that hold it.
///
///      top     --|-->---|-->---|-->---|--    wants to stretch by e between its screws
///      screws    s      s      s      s      springs of slip stiffness k
///      batten  --|------|------|------|--    does not
///
/// Creep and relaxation by the age-adjusted modulus, E / (1 + chi phi): Bazant, ACI Journal 69, 1972.
/// N, mm, MPa. Limits: pulls along the stiffener only; the bending that the pull at the underside brings is
/// the caller's.

#include <span>
#include <vector>

namespace hollowtop {

/// How much a strain held for a season relaxes.
struct Relaxation {
    double creep = 0;    ///< phi: share by which a strain grows under stress that stays
    double ageing = 0.8; ///< chi; Bazant 1972 gives 0.5 to 1, 0.8 usual
    double divisor() const { return 1 + ageing * creep; }
};

/// Stress in wood that is held fast, strain counted + where it wants to grow: the stress is a pressure then,
/// given as +.
double held_stress(double modulus, double free_strain, const Relaxation& relaxation);

/// A strip of the top and a stiffener, joined by screws at the given places along it, in order.
struct ScrewedBeamStrip {
    std::span<const double> screws;      ///< mm
    double screw_stiffness = 0;          ///< N/mm
    double EA_top = 0, EA_stiffener = 0; ///< N
    double free_strain = 0;              ///< of the top against the stiffener
    double screw_bears = 0;              ///< N, at which a screw yields and slips on; 0: it never does
};

struct ScrewedBeamStripResult {
    std::vector<double> screw_force; ///< on the stiffener, towards greater places +, N
    std::vector<double> slip;        ///< of the top against the stiffener, mm
    double greatest_pull = 0;        ///< greatest size of the force between the two, N
};

ScrewedBeamStripResult solve_screwed_beam_strip(const ScrewedBeamStrip& strip);

} // namespace hollowtop
