// SPDX-License-Identifier: MIT
#pragma once
/// \file  Strain that comes from inside, such as swelling: what each part would take if it were free, as a
/// load on the shell.
///
///      z = 0   ------>     the top face wants to grow more than the underside:
///      |       ---->       a straight line through the thickness, "stretch" at the reference surface
///      z = -h  -->         and "turn", its slope in z
///
/// A section takes N = C (e - e*): forces f = integral of B' C e*. Of a profile that is no straight line only
/// the line counts that has the same N* and M* in the free section; the rest is stress that holds itself in
/// balance and bends nothing.
/// Source: eigenstrain: Mura, Micromechanics of Defects in Solids, 1987, ch. 1 (from memory); layers:
/// Timoshenko,
/// Analysis of bi-metal thermostats, J. Opt. Soc. Am. 11, 1925.
/// Units: N, mm, MPa, strains as fractions. Limits: small movements; beside a wall the straight line of the
/// full rim is taken.

#include "solver/shell/shell.hpp"

#include <array>
#include <functional>
#include <span>
#include <vector>

namespace hollowtop {

/// Part of a thickness, from the top face down; its free strain runs straight from face to face.
struct FreeLayer {
    double thickness = 0;
    double modulus = 0;
    double strain_above = 0, strain_below = 0;
};

/// A strain that runs straight through the thickness: at the top face, and its slope in z (z up), 1/mm. The
/// free curvature of a beam strip with that slope is the slope itself.
struct StraightStrain {
    double at_top = 0, slope = 0;
};

/// How a free beam strip of these layers, glued to one another, stretches and bends.
StraightStrain free_strain(std::span<const FreeLayer> layers);

/// [e0; k] in x, y, xy about the reference surface of a strain in the unit direction `along` alone.
std::array<double, 6> strain_in_direction(const StraightStrain& strain, Point along, double reference_depth);

/// Free strain [e0; k] of a kind of place, about the reference surface.
using FreeStrainOf = std::function<std::array<double, 6>(SectionRegion)>;

/// Nodal forces over all dofs that the free strain works with. Outside the outline, where the shell has a
/// trace of stiffness, the strain of the full thickness is taken, so that an even strain meets no resistance
/// anywhere.
std::vector<double> eigenstrain_forces(const Shell& shell, const FreeStrainOf& free_strain_of);

} // namespace hollowtop
