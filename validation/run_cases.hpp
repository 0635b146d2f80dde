// SPDX-License-Identifier: MIT
#pragma once
/// \file  A validation case: a piece with a published answer, and how far what is computed lies from it.
/// The comparing that `hollowtop validate` and the tests share. It is handed a function from piece file to
/// result, both as JSON text, so it knows neither the command line nor the mechanics.
///
/// A case file:
///     {"id", "title", "source", "piece": {...}, "expect": [{"what", "value", "tolerance_percent"}, ...]}
/// `what` is a JSON Pointer (RFC 6901) into the result. A tolerance is a share of the published value
/// (`tolerance_percent`) or, for values that must be nought, in the value's own unit (`tolerance`). A value
/// may be true or false (1 or 0). Optional: `status`, `why` (what a miss would point to), `note` (how the
/// piece stands for the published case) and `miss` (why one is known); `note` and `why` of an expectation.
/// A top that was loaded and measured has `measured` and `readings` in place of `source` and `expect`
/// (validation/measured/README.md).

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::validation {

/// Where the value to compare with comes from. Published by others: read in a stored text, or recalled and not
/// found in one. Not published: given by a formula or a series; given by another program's converged solution;
/// read off gauges under a loaded top; invented, to show the form of such readings.
enum class Status { not_said, checked, from_memory, closed_form, computed, measured, invented };

/// "checked", "from memory", "closed form", "computed", "measured", "invented"; empty where not said.
std::string_view name_of(Status status);

struct Tolerance {
    double size = 0;
    bool is_percent = true; ///< of the published value; else in the value's own unit
};

struct Expectation {
    std::string what; ///< JSON Pointer into the result
    double value = 0;
    Tolerance tolerance;
    std::string note, why;
};

struct Case {
    std::string id, title, source, why, note;
    std::string miss; ///< why a value is known to lie outside its tolerance; empty where none is
    Status status = Status::not_said;
    std::string piece; ///< JSON text of the piece file
    std::vector<Expectation> expect;
};

/// One line of the table.
struct Comparison {
    std::string id, title, source;
    Status status = Status::not_said;
    std::string what;
    double published = 0;
    std::optional<double> computed; ///< absent where nothing could be computed; `problem` then says why
    std::optional<double>
        difference_percent; ///< of the published value; absent where that is 0 or nothing was computed
    Tolerance tolerance;
    bool ok = false;
    std::string problem, note, why;
};

/// Piece file in, result out, both JSON text.
using PieceRunner = std::function<std::string(const std::string& piece_json)>;

/// Throws Error(input) with every fault of the case file and its place (`expect[2].value`); `name` becomes
/// its file.
/// Does not look into the piece.
Case parse_case(std::string_view text, const std::string& name);

/// The value of a JSON Pointer in a result; true and false are 1 and 0. Absent where it points at nothing or
/// at no number.
/// Throws Error(input) where `result_json` is no JSON.
std::optional<double> value_at(const std::string& result_json, const std::string& pointer);

/// Compares a result with what is expected. A value that is not there is a miss with its problem said, not an
/// error.
std::vector<Comparison> compare(const Case& c, const std::string& result_json);

/// Runs the piece and compares. A piece that cannot be computed (Error(not_computable)) is a miss in every
/// line; a piece that makes no sense throws on, its places led by `piece.`.
std::vector<Comparison> run_case(const Case& c, const PieceRunner& run);

bool all_ok(const std::vector<Comparison>& comparisons);

} // namespace hollowtop::validation
