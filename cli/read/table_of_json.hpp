// SPDX-License-Identifier: MIT
#pragma once
/// \file  Readings that were kept as JSON, as the table that the readers of CSV read.
///
///     {"load_unit": "kg", "readings": [[5, 0.48], {"load": 10, "reading": "0.95 mm"}]}      or the list alone
///
/// A line for each item of the list, the columns in the order of `keys`, parted by semicolons; a column that is null or
/// left out at the end is "-". KEY_unit stands behind each number of that key that has no unit.

#include <span>
#include <string>
#include <string_view>

namespace hollowtop::cli {

/// Does it begin as JSON does?
bool is_json(std::string_view text);

/// Throws Error(input) with "readings[3]" as the place.
std::string table_of_json(std::string_view text, std::span<const std::string_view> keys);

} // namespace hollowtop::cli
