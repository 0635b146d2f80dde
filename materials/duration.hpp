// SPDX-License-Identifier: MIT
#pragma once
/// \file  How long a load stays, and what that does to the strength and the stiffness of wood.
/// Classes: EN 1995-1-1 tables 2.1 and 2.2. Factors come from data/wood_rules.csv, each with its source.

#include "materials/sourced.hpp"

namespace hollowtop {

enum class Duration { permanent, long_term, medium, short_term, hour, minutes, instantaneous };

/// "permanent", "long", "medium", "short", "hour", "minutes", "instantaneous": the words of the piece file.
const char* to_word(Duration duration);

/// True for loads that stay long enough for wood to creep under them (permanent and long).
constexpr bool stays(Duration duration) {
    return duration == Duration::permanent || duration == Duration::long_term;
}

namespace materials {

/// Load duration factor C_D on the ten-year strength (handbook basis). NDS table 2.3.2; permanent 0.9, long
/// 1.0, medium 1.15 (two months), short 1.25 (seven days), hour 1.5, minutes and instantaneous 1.6 (ten
/// minutes).
Sourced duration_factor(Duration duration);

/// k_mod of solid timber (class basis), EN 1995-1-1 table 3.1; an hour counts as short, minutes as
/// instantaneous. `service_class` 1, 2 or 3; throws Error(input) otherwise.
Sourced k_mod(Duration duration, int service_class);

/// k_def of solid timber, EN 1995-1-1 table 3.2. `service_class` 1, 2 or 3; throws Error(input) otherwise.
Sourced k_def(int service_class);

} // namespace materials
} // namespace hollowtop
