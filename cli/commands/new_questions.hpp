// SPDX-License-Identifier: MIT
#pragma once
/// \file  What `hollowtop new` asks: as options, or as questions on a terminal.

#include "cli/commands/rows.hpp"
#include "materials/message.hpp"
#include "solver/variants/start.hpp"

namespace hollowtop::cli::new_piece {

inline constexpr const char* base_words = "legs trestle pedestal wall cabinet";
inline constexpr const char* shape_words = "rectangle round oval slab corner";
// clang-format off
inline constexpr Option length_option{"--length", "LENGTH", "of the top"};
inline constexpr Option width_option{"--width", "LENGTH", "of the top"};
inline constexpr Option thickness_option{"--thickness", "LENGTH", "of the top, planed"};
inline constexpr Option wood_option{"--wood", "NAME", "the wood, as hollowtop materials lists it"};
inline constexpr Option use_option{"--use", "NAME", "what it is for, as hollowtop uses lists it: dining, desk, bench, shelf, counter, ..."};
inline constexpr Option base_option{"--base", "BASE", "what carries it: legs, trestle, pedestal, wall (brackets) or cabinet", false, "", base_words};
inline constexpr Option shape_option{"--shape", "SHAPE", "rectangle (where not given), round (its length is its diameter), oval, slab (edges as they grew) or corner (an L)", false, "", shape_words};
inline constexpr Option grain_option{"--grain", "DEGREES", "of the grain from the length: 0 along it (where not given), 90 across"};
inline constexpr Option file_option{"--out", "FILE", "the piece file to write, which must not be there yet (where not given: standard output)", false, "-o"};
inline constexpr Option keep_option{"--keep", "", "write the file even where the top does not meet its limits"};
inline constexpr Option ask_option{"--ask", "", "ask for what is not given, though standard input is no terminal"};
inline constexpr Option new_units_option{"--units", "mm|in", "units of the file, and of what is typed without one (mm where not given)", false, "", "mm in"};
// clang-format on

/// Both throw Error(input), wish_of with the option as its place. Questions go to standard error, answers come from standard input:
/// what is printed on standard output stays the piece.
[[noreturn]] void refuse_wish(const char* place, Message what, Message remedy);
Wish wish_of(const Given& given, Units units);

} // namespace hollowtop::cli::new_piece
