// SPDX-License-Identifier: MIT
#pragma once
/// \file  What first-order shear theory leaves out along a recess wall: shear in the plane and twist.
///
/// Movement along the wall alone is Laplace's equation on the wall's cross-section. Two far fields feed it: a
/// shear flow N through skin and rim, and a twist of the plate. The plate answers both with a layer of
/// turning on each side of the wall, too stiff by up to a tenth of a rim's torsion. The zone beside the wall
/// gets the extra compliance to [shear flow, twisting moment] that makes plate and section agree. With
/// lengths across the wall divided by sqrt(G_across / G_through) there is one section for each ratio skin /
/// thick.
/// Derivation: docs/walls.md. Units: N, mm, MPa. Limits: sharp root.

#include "solver/section/section_stiffness.hpp"

#include <array>

namespace hollowtop {

/// Extra compliance of a whole wall along itself, to shear flow and twisting moment about the skin's own
/// axis.
struct AlongCompliance {
    double NN = 0, NM = 0, MM = 0;
};

/// `zone`: the width over which it is spread, on the thick side of the wall whose unit normal is `across`.
AlongCompliance wall_along(const PlaneStiffness& plane, double thick, double skin, Point across, double zone);

/// Work of a unit shear flow and of a unit twist on two plates with such a zone, less that without any layer;
/// thick 1, G 1, [flow flow, flow twist, twist twist].
std::array<double, 3> layer_work(double skin, double zone, const AlongCompliance& compliance);

} // namespace hollowtop
