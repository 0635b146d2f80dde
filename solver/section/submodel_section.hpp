// SPDX-License-Identifier: MIT
#pragma once
/// \file  The wall submodel: the cross-section of the step from rim to skin in plane strain, a small solve of plane
/// elasticity across the wall.
///
///        skin end                               rim end           z = 0  top face
///            |====================================|
///            |  skin      A      |      B         |
///            |-------------------m - - crack? - - |               z = -skin
///                             .  |      C         |
///              root radius ->    |                |               z = -thick
///                             x = 0 (the wall's face)
///
/// Loads are the resultants of the skin at the wall's face: pull N and moment M about the skin's own axis
/// (tension at the top face +), and shear V = dM/dx, each per width. The rim's end carries what balances
/// them.
/// Solved on the cells of submodel_mesh.hpp (graded to a sharp root, exact at a rounded one) by
/// submodel_element.hpp, submodel_solver.hpp.
/// Sources: Szabo and Babuska, Finite Element Analysis, 1991 (high order, graded to a corner); Parks, A
/// stiffness derivative finite element technique for determination of crack tip stress intensity factors,
/// Int. J. Fracture 10, 1974 (release rate).
/// Units: N, mm, MPa. Limits: straight wall, no movement along it (plane strain), linear.

#include "solver/section/submodel_input.hpp"

#include <array>
#include <vector>

namespace hollowtop {

struct SubmodelAnswer {
    /// Work of each pair of load cases, less that of two beams joined at their own axes; [pull, moment,
    /// shear], row-major.
    /// Of movement along the wall: [shear flow, twist, -], less that of two plates without a layer beside the
    /// wall.
    Matrix3 extra{};
    /// Stress at the root a unit load, means over one thickness of the skin: across the wall on the skin's
    /// underside and on its top face; pulling apart and shearing the level of the underside inside the rim.
    PerLoad underside{}, top{}, peel{}, slip{};
    std::vector<PerLoad>
        along_root; ///< stress along the surface, at points from the skin round the root to the wall
    std::array<PerLoad, n_submodel_loads>
        release{};   ///< energy released a growth of the crack, a pair of unit loads, N/mm; 0 without
    double work = 0; ///< greatest work of a load case: the scale of `extra`
    int dofs = 0;
};

/// Throws Error(not_computable) where the constants are not positive definite.
SubmodelAnswer solve_submodel(const SubmodelSection& section);

} // namespace hollowtop
