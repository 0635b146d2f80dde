// SPDX-License-Identifier: MIT
#pragma once
/// \file  The step's own cross-section in plane strain: a small solve of plane elasticity, across the wall.
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
/// step_element.hpp, step_solver.hpp.
/// Sources: Szabo and Babuska, Finite Element Analysis, 1991 (high order, graded to a corner); Parks, A
/// stiffness derivative finite element technique for determination of crack tip stress intensity factors,
/// Int. J. Fracture 10, 1974 (release rate).
/// Units: N, mm, MPa. Limits: straight wall, no movement along it (plane strain), linear.

#include "solver/section/section_stiffness.hpp"

#include <array>
#include <vector>

namespace hollowtop {

/// Load cases: pull, moment, shear of the skin at the wall's face; with a crack also shear on the face of the
/// part below it.
inline constexpr int n_submodel_loads = 4;
using PerLoad = std::array<double, n_submodel_loads>;

/// The middle of a bar with a step on both sides (tests) is a plane of symmetry when it is pulled; when it is
/// bent, movements and stresses change their sign there. `bent_bar` has one load case, moment: that of half
/// the bar about its middle.
enum class TopFace { free, pulled_bar, bent_bar };

struct SubmodelSection {
    double thick = 0, skin = 0;
    double root_radius = 0; ///< at most 0.95 of the depth counts
    Matrix3 C{}; ///< stiffness in the section's plane: across, through the thickness, shear between them
    double crack =
        0; ///< length of a crack from the root into the rim, level with the skin's underside; 0: none. At least a
    ///< fifth of the lesser of skin and depth (release within 2.5 %; shorter ones are not resolved)
    bool rim_end_held =
        false; ///< the rim's end stays plane instead of carrying a beam's stresses (tests; no shear, no crack)
    bool moves_along =
        false; ///< movement along the wall alone: C holds its two shear moduli at 0 and 8 (see SubmodelAnswer::extra)
    TopFace top = TopFace::free;
};

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
SubmodelAnswer solve_submodel(const SubmodelSection& step);

} // namespace hollowtop
