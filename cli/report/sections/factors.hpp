// SPDX-License-Identifier: MIT
#pragma once
/// \file  A strength's way from its published value to what is allowed, taken from the sentence that says it:
///
///     mean 85 MPa of clear cherry (work, table) x 0.74 for the weakest 5 % (work) / 2.1 for ... (work) = 30 MPa
///     `-------- start ------------------------'  `------------ a factor ------'  `--- a factor --'   `- value

#include "cli/words/quantity.hpp"
#include "materials/message.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli {

struct Factor {
    bool divides = false;
    double value = 1;
    std::string why, source; ///< source: what stood in brackets at the end; may be empty
};

struct Reckoned {
    std::string start, start_source;
    double start_value = 0; ///< MPa: `value` without the factors
    std::vector<Factor> factors;
    double value = 0; ///< MPa
};

/// Empty where the sentence is no such way, or where its end is not `capacity`.
std::optional<Reckoned> reckoned_of(const Message& basis, double capacity, Units units);

} // namespace hollowtop::cli
