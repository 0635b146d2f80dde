// SPDX-License-Identifier: MIT
#pragma once
/// \file  The comparisons of `validate` as JSON text.

#include "validation/run_cases.hpp"

#include <span>
#include <string>

namespace hollowtop::cli {

/// A list, in the order of the cases; null where nothing could be computed.
std::string to_json(std::span<const validation::Comparison> comparisons);

} // namespace hollowtop::cli
