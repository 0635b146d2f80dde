// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the solver says in sentences, said in the units of the reader.
/// The solver writes its sentences in mm, N, kg, kPa, MPa and C, and the JSON keeps them so. Text and report
/// turn them on the way out:
/// "span of 1270 mm / 300" becomes "span of 50 in / 300". Lengths become sixteenths with the decimal beside
/// them, as dimensions are; what is under a sixteenth, and what stands in brackets or before some, the
/// decimal alone; places sixteenths alone.
///
/// What stands in double quotes is somebody's word and stays, but for the place of a load that travels, which
/// the solver puts behind its name: "books, at x 950, y 60 mm". Names outside quotes stay where they are
/// among `names`. Sections, formulas (N/mm, MPa2) and densities stay as they are.

#include "cli/words/quantity.hpp"
#include "materials/error.hpp"
#include "solver/result/result.hpp"
#include "solver/seasons/seasons.hpp"

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {

std::string told(std::string_view sentence, Units units, std::span<const std::string> names = {});

/// The names in a piece that read like an amount, the longest first.
std::vector<std::string> names_like_amounts(const Piece& piece);

/// Each sentence of a result turned, and the names of situations with them; numbers stay.
Result told(Result result, Units units, std::span<const std::string> names = {});
Seasons told(Seasons seasons, Units units, std::span<const std::string> names = {});
std::vector<std::string> told(std::span<const std::string> sentences, Units units,
                              std::span<const std::string> names = {});
Fault told(Fault fault, Units units, std::span<const std::string> names = {});
Error told(const Error& error, Units units, std::span<const std::string> names = {});

} // namespace hollowtop::cli
