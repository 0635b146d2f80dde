// SPDX-License-Identifier: MIT
#pragma once
/// \file  A straight bar under the top: stiffener or rail, a beam in space that floats until connections hold
/// it.
///
///        z ^                       s runs along the bar from its middle, y to the left of it, z up.
///          |  wood                 Timoshenko's beam with unsymmetrical bending (I_yz), torsion about the shear centre:
///   -------+=====+---> y             N = EA u'                         T = GJ tx'   (about the shear centre)
///          |                         M_y = E (I_yy ty' - I_yz tz')     M_z = E (I_zz tz' - I_yz ty')
///          |  bar                    V_y = G A_sy (v' - tz)            V_z = G A_sz (w' + ty)
///                                    stress = N/A + E (z ty' - y tz')
/// Its compliance is a closed form: the bar is thought clamped at its middle and given six rigid motions of
/// its own, so that no matrix is ever made. Warping of open sections is free; its stresses are left out.
/// Sources: Timoshenko, Strength of Materials Part I (1955), arts. 38 (shear), 47 (unsymmetrical bending), 52
/// (shear centre).

#include "materials/section.hpp"
#include "solver/piece/piece.hpp"

#include <array>
#include <span>
#include <string>
#include <vector>

namespace hollowtop {

struct Beam {
    std::string name;
    materials::Section section;
    Point middle, along; ///< of the line in plan; unit vector from start to end
    double length = 0;
    double E = 0, GJ = 0;      ///< MPa, N mm2
    double GA_y = 0, GA_z = 0; ///< N
    double weight = 0;         ///< N/mm, 0 where it is not carried by the top
    double density_kg_m3 = 0;
    bool creeps = false; ///< wood
    double E_across = 0; ///< across the bar, MPa
    double y_line =
        0; ///< where the line in plan lies in the section's y: the middle of what touches the wood
    std::array<double, 2> shear_centre{}; ///< y, z from the centroid

    bool operator==(const Beam&) const = default;
    Point at(double s, double y = 0) const { ///< y from the line
        return {middle.x + s * along.x - y * along.y, middle.y + s * along.y + y * along.x};
    }
};

/// No wood is as stiff along its grain, MPa (judgement: the stiffest reach some 25 000): a bar of stated
/// constants below it is of wood.
inline constexpr double stiffest_wood = 30000;
bool is_of_wood(const Stiffener& stiffener);

/// Throws Error(input) where section or material is not known. `place` names the part of the piece.
Beam beam_of(const Stiffener& stiffener, double moisture_percent);
Beam beam_of(const Rail& rail, const std::string& name, double moisture_percent);

/// Force and moment about the centroid at s, along (s, y, z).
struct BeamForce {
    double s = 0;
    std::array<double, 6> f{};
    bool operator==(const BeamForce&) const = default;
};

/// A force at s, at (y, z) of the section measured from the line on the contact face.
BeamForce force_on(const Beam& beam, double s, double y, double z, std::array<double, 3> force);

/// Movement in the sense of `a` per unit of `b`, of the bar clamped at its middle.
double compliance_between(const Beam& beam, std::span<const BeamForce> a, std::span<const BeamForce> b);

/// The same under the bar's own weight.
double moved_by_weight(const Beam& beam, std::span<const BeamForce> a);

/// Work of the forces in the six rigid motions: along, across, up, and turns about s, y, z through the
/// middle, each scaled to move the ends by about one.
std::array<double, 6> rigid_work(const Beam& beam, std::span<const BeamForce> forces);
std::array<double, 6> rigid_work_of_weight(const Beam& beam);

/// What a section carries at s, forces at s itself counted as beyond it. Forces must be in balance.
struct SectionForces {
    double N = 0, V_y = 0, V_z = 0, T = 0, M_y = 0,
           M_z = 0; ///< T about the shear centre, moments about the centroid
};
SectionForces section_forces(const Beam& beam, double s, std::span<const BeamForce> forces);

/// Stress of bending and axial force at a point of the section, from the centroid, MPa.
double stress_at(const Beam& beam, const SectionForces& forces, double y, double z);

/// Greatest stress over the section's corners, in size; tension +.
double greatest_stress(const Beam& beam, const SectionForces& forces);

} // namespace hollowtop
