// SPDX-License-Identifier: MIT
#pragma once
/// \file  The result as JSON text: docs/result.schema.json. Keys in the order of the interface, numbers in
/// full precision and in the unit that their key names, null where a value was not computed.

#include "solver/result/result.hpp"
#include "solver/uncertainty/uncertainty.hpp"
#include "solver/variants/trials.hpp"

#include <optional>
#include <span>
#include <string>

namespace hollowtop::cli {

/// Throws Error(not_computable) where a number is not finite: such a number is never written. `band`: the key
/// `uncertainty`, where it was computed.
std::string to_json(const Result& result, const Uncertainty* band = nullptr);

/// One word a change, such as "thinner": the key of a row of `trials.changes`.
const char* key_of(Changed kind);

/// How far that one thing may go until a limit is reached, in its step's unit; empty where none is, nor where
/// wood would have to be softer by the whole of its stiffness.
std::optional<double> limit_at(const ChangeRow& row);

/// A value that the computation starts from.
struct Datum {
    std::string what, unit; ///< unit as in the JSON: "MPa", "kg/m3", "%", "1"
    double value = 0;
    std::optional<double> variation_percent{}; ///< coefficient of variation
    Message source;
};

/// The same with what a report adds: `trials` and `data`.
std::string to_json(const Result& result, const std::optional<Trials>& trials, std::span<const Datum> data,
                    const Uncertainty* band = nullptr);

/// The result of one of several pieces.
struct NamedResult {
    std::string file;
    Result result;
};

/// A list of results, each with the `file` of its piece first.
std::string to_json(std::span<const NamedResult> results);

} // namespace hollowtop::cli
