// SPDX-License-Identifier: MIT
#pragma once
/// \file  The tables of materials/data/ as they are built into the program: the same bytes as the CSV files.

#include <string_view>

namespace hollowtop::materials {

/// The text of materials/data/NAME.csv; empty where there is no such table. `name` has no ".csv".
std::string_view table_text(std::string_view name);

} // namespace hollowtop::materials
