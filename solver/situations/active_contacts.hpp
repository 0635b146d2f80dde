// SPDX-License-Identifier: MIT
#pragma once
/// \file  How much of a load a loose top stands, by the middles of the tiles that may press: what the contact
/// problem balances.

#include "solver/situations/situations.hpp"

#include <optional>
#include <vector>

namespace hollowtop {

/// Convex hull of the middles of the supports' tiles and of the rails' lines.
std::vector<Point> active_hull(const Model& model);

/// The share of what passes that what stays balances, less a thousandth; empty where all of it or any
/// multiple is balanced.
std::optional<double> share_that_stands(const std::vector<Point>& active_hull, const Resultant& standing,
                                        const Resultant& passing);

} // namespace hollowtop
