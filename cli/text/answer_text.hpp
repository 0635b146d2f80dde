// SPDX-License-Identifier: MIT
#pragma once
/// \file  The short answer of `check`: what a maker has to know before the router is switched on, on one screen.
/// The whole is check_text.hpp's (`--full`), the report's and the JSON's.

#include "cli/text/check_text.hpp"
#include "solver/uncertainty/uncertainty.hpp"

#include <string>

namespace hollowtop::cli {

/// At most forty lines of a hundred columns for a usual piece: verdict; what to do, or what it would take; does
/// hollowing pay; weight; sag and flatness; the five checks used most; supports that the top leaves; how sure. `band`: where it was computed.
std::string answer_text(const std::string& file, const Piece& piece, const Result& computed,
                        const TextStyle& style, const Uncertainty* band = nullptr);

} // namespace hollowtop::cli
