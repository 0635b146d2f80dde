// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the submodel of a wall's cross-section is given: its sizes, material and load cases. The picture stands
/// in submodel_section.hpp. Units: N, mm, MPa.

#include "solver/section/matrices.hpp"

#include <array>

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

} // namespace hollowtop
