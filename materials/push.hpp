// SPDX-License-Identifier: MIT
#pragma once
/// \file  What pushes on the skin of a recess in everyday use and in the workshop: a thumb, a sanding pad, a
/// heel (data/pushes.csv).

#include "materials/duration.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop::materials {

/// N, mm; spread evenly over a square.
struct Push {
    std::string id, name;
    double force_N = 0, size_mm = 0;
    std::optional<double> dish_limit_mm; ///< an estimate of the trade: advice, no published limit is known
    std::optional<double> width_over{};  ///< or so many times less than the skin's clear width, in its place
    Duration duration = Duration::short_term;
    Message source;
    std::string status;
};

/// All of them, in the order of the table.
const std::vector<Push>& pushes();

} // namespace hollowtop::materials
