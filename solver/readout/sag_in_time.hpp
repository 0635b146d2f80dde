// SPDX-License-Identifier: MIT
#pragma once
/// \file  Sag under the standing loads as the years go by, between that at once and that after the years
/// (k_def).
///
///     sag(t) = sag at once + (sag after the years - sag at once) (t / 50 years)^0.2
///
/// The ends are computed; the way between is our interpolation. EN 1995-1-1 gives k_def for the whole life of
/// a building, taken as 50 years (EN 1990, from memory); creep of wood grows by a power of time of about 0.2
/// to 0.3 (common practice), and the lower exponent puts more of it early. Limits: steady indoor air; each
/// wetting and drying adds to it.

#include "materials/message.hpp"
#include "solver/result/response.hpp"

#include <string>
#include <vector>

namespace hollowtop {

/// What k_def stands for (EN 1990, from memory). Past it nothing is known here.
inline constexpr double creep_life_years = 50;

/// At once, after 1, 5, 10, 25 and 50 years, and after `asked_years` where those are fewer than 50. Empty
/// where nothing stays.
std::vector<SagInTime> sag_in_time(const Response& response, double asked_years);

/// Share of the final creep that is there after so many years.
double share_of_creep(double years);

/// Where the numbers come from.
Message sag_in_time_basis();

} // namespace hollowtop
