// SPDX-License-Identifier: MIT
#pragma once
/// \file  The values that the computation of a piece starts from, each with its source: for the table of the
/// report and its JSON.

#include "cli/json/result_json.hpp"
#include "solver/piece/piece.hpp"

#include <vector>

namespace hollowtop::cli {

std::vector<Datum> data_of(const Piece& piece);

} // namespace hollowtop::cli
