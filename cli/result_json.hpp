// SPDX-License-Identifier: MIT
#pragma once
/// \file  The result as JSON text: docs/result.schema.json. Keys in the order of the interface, numbers in full precision
/// and in the unit that their key names, null where a value was not computed.

#include "solver/analysis/result.hpp"

#include <span>
#include <string>

namespace hollowtop::cli {

/// Throws Error(not_computable) where a number is not finite: such a number is never written.
std::string to_json(const Result& result);

/// The result of one of several pieces.
struct NamedResult {
    std::string file;
    Result result;
};

/// A list of results, each with the `file` of its piece first.
std::string to_json(std::span<const NamedResult> results);

} // namespace hollowtop::cli
