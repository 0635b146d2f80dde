// SPDX-License-Identifier: MIT
#pragma once
/// \file  The parts of a piece file, each read by its own function. Faults go to the cursor's list; what
/// could not be read keeps its default. Used by piece_file.cpp only.

#include "cli/read/cursor.hpp"
#include "solver/piece/piece.hpp"

#include <optional>
#include <vector>

namespace hollowtop::cli {

Top read_top(const Cursor& object);
/// `skin` in place of `depth` needs the thickness of the top.
Recess read_recess(const Cursor& object, const Top& top, std::size_t number);
/// What a recess holds, and its cover.
std::vector<Kept> read_holds(const Cursor& list);
std::optional<Cover> read_cover(const Cursor& object);
Stiffener read_stiffener(const Cursor& object, std::size_t number);
/// Where a stiffener is let in: a recess just as wide and as long as it is.
std::optional<Recess> read_groove(const Cursor& object, const Stiffener& stiffener);
/// Their wood is the top's where they name none.
std::optional<Ends> read_ends(const Cursor& object, const Top& top);
/// Supports without a name are called by their kind and their number among that kind: "pad 1", "bearer 2".
std::vector<Support> read_supports(const Cursor& list);
Load read_load(const Cursor& object, const Top& top, std::size_t number);
Limits read_limits(const Cursor& object);
Allowables read_allowables(const Cursor& object, bool of_sheet);
Climate read_climate(const Cursor& object);

/// A wood's id in the table of woods; a fault, and "", where the name means none or several.
std::string read_wood(const Cursor& text);
/// `"elastic"` of a stiffener or a rail.
std::optional<BarElastic> read_bar_elastic(const Cursor& object);

} // namespace hollowtop::cli
