// SPDX-License-Identifier: MIT
#pragma once
/// \file  The way from a published value to what is allowed, taken from the sentence that says it:
///
///     mean 85 MPa of clear cherry (work, table) x 0.74 for the weakest 5 % (work) / 2.1 for ... (work) = 30 MPa
///     `-------- start ------------------------'  `------------ a factor ------'  `--- a factor --'   `- value
///
/// A sag ("span of 1740 mm / 300 (work)") and the force on a screw ("mean load (work) / 1.33 (work), x 1.25") end with
/// their last factor.

#include "cli/words/quantity.hpp"
#include "materials/message.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {

struct Factor {
    bool divides = false;
    double value = 1;
    std::string why, source; ///< source: what stood in brackets at the end; may be empty
};

struct Reckoned {
    std::string start, start_source;
    double start_value = 0; ///< in the unit of the check: `value` without the factors
    std::vector<Factor> factors;
    double value = 0;
};

/// Empty where the sentence is no such way, where its end is not `capacity`, or where start and factors do not make
/// it. `unit` is that of the check.
std::optional<Reckoned> reckoned_of(const Message& basis, double capacity, std::string_view unit,
                                    Units units);

} // namespace hollowtop::cli
