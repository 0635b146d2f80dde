// SPDX-License-Identifier: MIT
#pragma once
/// \file  What wood bears across the grain where many places are pulled at once. Derivation: docs/method.md;
/// materials/weakest_link.hpp.

#include "materials/strength.hpp"
#include "solver/result/response.hpp"

#include <optional>

namespace hollowtop {

/// The even tension across the grain that is as hard on the volume of the allowable stress as the situation
/// is on the whole top.
double effective_tension_across(const TensionAcross& tension, const materials::AllowableStresses& allowables);

/// Strength in tension across the grain at a single place: the allowable stress x greatest / effective stress
/// of the situation, so that the place where it is greatest uses what the whole top does; but no more than a
/// cube as thick as the top there bears in bending, and the allowable stress itself where nothing is pulled.
/// The greatest is that of the means over a square one thickness wide where they are known, as the stress at a
/// place is one, but not more than the greatest at a point of the wood that is summed up.
double tension_strength_at_a_place(const std::optional<TensionAcross>& tension,
                                   const materials::AllowableStresses& allowables);

/// Share of the strength across the grain that a mean over a small place takes: tension against that of the
/// handbook's volume, compression against compression.
double utilisation_across(double stress_across, const materials::AllowableStresses& allowables);

} // namespace hollowtop
