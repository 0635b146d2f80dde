// SPDX-License-Identifier: MIT
#pragma once
/// \file  Metals for stiffeners, one row of data/metals.csv each. MPa, kg/m3, per kelvin.

#include "materials/duration.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::materials {

struct Metal {
    std::string id, name;
    double E = 0, G = 0, nu = 0, density_kg_m3 = 0;
    std::optional<double> expansion_per_K; ///< empty: the source gives none
    std::optional<double> f_y, f_u; ///< least yield (0.2 % proof) and strength; empty: the source gives none
    std::string source, status, note;
    std::string partial_factor; ///< row of data/metal_rules.csv; empty where no code gives one for the metal
};

const std::vector<Metal>& metals();

/// By id or by a word of its name that no other metal has. Throws Error(input) with the nearest ids.
const Metal& find_metal(std::string_view name);

/// Allowable stress f_y / 1.67: AISC 360-16 F1(1).
/// Empty where no yield is known: it depends on the temper then.
std::optional<Sourced> allowable_stress(const Metal& metal);

/// Design strength f_y / gamma_M, against design loads: EN 1993-1-1 6.1(1), EN 1993-1-4 5.1(2), EN 1999-1-1
/// 6.1.3; other metals as aluminium (judgement). Empty where no yield is known.
std::optional<Sourced> design_strength(const Metal& metal);

} // namespace hollowtop::materials
