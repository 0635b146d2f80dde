// SPDX-License-Identifier: MIT
#pragma once
/// \file  Stiffness of the top's section about a reference surface, the top face.
/// A hollowed top has its middle at two heights, in the rim and in the skin. Both are described about one
/// surface, so the wall needs no rigid links: bending and stretching are coupled there, B is not zero.
///
///      z = 0  --------------------------------   reference surface (top face)
///             ||||||||||||||||||||||||||||||||   skin
///             |||||||                  |||||||   rim
///      z = -h ........
///
/// u(x, y, z) = u0 + z bx, v = v0 + z by, w(x, y); strains e = e0 + z k with k = (bx,x  by,y  bx,y + by,x).
/// Source: first-order shear theory, Reissner 1945 and Mindlin 1951 (shear correction 5/6 as for a
/// homogeneous section);
/// A, B, D as in Jones, Mechanics of Composite Materials, 1975, ch. 4.
/// Units: N, mm, MPa, kg. Limits: small movements, one homogeneous layer.

#include "solver/section/plane_stiffness.hpp"

#include <array>

namespace hollowtop {

struct Section {
    Matrix6 C{};               ///< [N; M] = C [e0; k], about the reference surface
    std::array<double, 4> S{}; ///< transverse shear forces = S (gamma_xz, gamma_yz), N/mm
    std::array<double, 12>
        cross{}; ///< [N; M] also by the shear strains, 6 x 2, and the reverse: only in the zone beside a wall
    Matrix8
        wood{}; ///< strains of the wood itself = wood [e0; k; gamma]; unit except in the zone beside a wall
    double thickness = 0;
    std::array<double, 3> mass{}; ///< integral of density (1, z, z^2) over the thickness, kg/mm2, kg/mm, kg
};

/// A plain section. `reference_depth` is the depth of the reference surface below the top face: 0 everywhere
/// but in tests.
Section plain_section(const PlaneStiffness& plane, double thickness, double reference_depth);

/// Extra compliance of a section across a wall, a unit length. `across`: [stretch; curvature; shear strain] a
/// unit [pull; moment; shear force] about the reference surface, row-major; `along`: the same of [shear in
/// the plane; twist], row-major.
struct WallCompliance {
    Matrix3 across{};
    std::array<double, 4> along{};
};

/// The rim beside a wall, reduced across it (direction `across`) by `compliance`: the rim's full depth takes
/// hold only over a length.
/// Along the wall it is full rim. Derivation: docs/walls.md.
Section wall_section(const PlaneStiffness& plane, double thickness, const WallCompliance& compliance,
                     Point across, double reference_depth);

/// Width of the zone of rim over which the wall's extra compliance is spread, mm: 0.04 t sqrt(E/G) across the
/// wall, but at least 0.1 t. Narrow, as the compliance belongs to the wall itself; a tenth or a twentieth of
/// it moves results by 0.2 % at most.
double wall_zone_width(const PlaneStiffness& plane, double thickness, Point across);

} // namespace hollowtop
