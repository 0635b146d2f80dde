// SPDX-License-Identifier: MIT
#pragma once
/// \file  How fast moisture goes through wood and through what it is finished with (data/finishes.csv,
/// data/wood_rules.csv; both from memory, orders of magnitude). Moisture in percent of dry mass.

#include "materials/sourced.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::materials {

struct Finish {
    std::string id, name;
    Sourced exchange_mm_s; ///< S of -D du/dn = S (u - u_rest)
};

const std::vector<Finish>& finishes();
/// Throws Error(input) where there is none of that id.
const Finish& find_finish(std::string_view id);

/// Diffusion of moisture across the grain, D = at_12 exp(growth (u - 12)), the same for all woods.
struct Diffusion {
    Sourced at_12_mm2_s, growth_per_percent;
};
const Diffusion& diffusion_across();

/// Diffusion along the grain, so many times that across it.
Sourced diffusion_along();

/// Share of its elastic strain that wood under stress across the grain gives a point of moisture change, whichever way.
Sourced give_with_moisture();

} // namespace hollowtop::materials
