// SPDX-License-Identifier: MIT
#pragma once
/// \file  A number that never travels without its source.

#include "materials/message.hpp"

#include <string>

namespace hollowtop::materials {

/// A number and where it comes from.
struct Sourced {
    double value = 0;
    Message source;     ///< author or body, title, table or equation
    std::string status; ///< "checked", "from memory", ...
};

} // namespace hollowtop::materials
