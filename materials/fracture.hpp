// SPDX-License-Identifier: MIT
#pragma once
/// \file  What it takes to split wood along the grain: fracture energy, and the share of it that may be used.
///
/// Mean: 1.07 rho - 162 N/m with rho in kg/m3 at 12 % (Larsen and Gustafsson 1990, from memory), measured on
/// softwoods; for denser woods it is an estimate, and beyond the bounds in wood_rules.csv it is held. A wood
/// of data/fracture_energies.csv has a measured mean of its own. All near 12 % moisture; drier wood has less
/// (Forsman et al. 2021), by how much is not known. The splitting load goes as the root of the energy, so
/// factors on the load count squared.

#include "materials/strength.hpp"

namespace hollowtop::materials {

/// Usable fracture energy, N/mm, of a handbook wood: weakest 5 %, divided for ten years of load and safety as
/// bending is, or as bending is against the force of a test.
Allowable handbook_fracture_energy(const Wood& wood, Duration duration,
                                   Against against = Against::loads_of_use);

/// The same of a strength class, from its characteristic density, k_mod and gamma_M.
Allowable class_fracture_energy(const std::string& strength_class, int service_class, Duration duration);

} // namespace hollowtop::materials
