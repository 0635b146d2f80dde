// SPDX-License-Identifier: MIT
#pragma once
/// \file  How many parts a piece may have, and how small and how large they may be: the one table that the reader, the
/// sense, the schema (docs/piece.schema.json) and docs/limits.md go by. All are bounds of what is computed, ours and chosen
/// wide: no table comes near them. None says that a thing so large can be built.

#include "materials/message.hpp"
#include "materials/section.hpp"

#include <cstddef>
#include <span>
#include <string>

namespace hollowtop {

struct MostParts {
    const char* key;  ///< of the piece file
    const char* what; ///< "recesses of a piece"
    std::size_t most;
};

struct SizeBounds {
    const char* what;
    double least, most;
    Unit unit;
    bool may_be_nought = false; ///< nought has a meaning of its own there
};

inline constexpr std::size_t most_faults =
    50; ///< of a piece that are gathered; whoever has so many mends them first

inline constexpr MostParts most_recesses{"recesses", "recesses", 500};
inline constexpr MostParts most_lands{"lands", "lands of a recess", 200};
inline constexpr MostParts most_holds{"holds", "things kept in a recess", 100};
inline constexpr MostParts most_stiffeners{"stiffeners", "stiffeners", 200};
inline constexpr MostParts most_screws{"screws", "screws of a stiffener", 1000};
inline constexpr MostParts most_supports{"supports", "supports", 1000};
inline constexpr MostParts most_loads{"loads", "loads", 500};
inline constexpr MostParts most_vertices{"points", "corners of a polygon", 1000};
inline constexpr MostParts most_boards{"boards", "boards", 1000};
inline constexpr MostParts most_probes{"probe", "probes", 1000};

inline constexpr SizeBounds top_sides{"length or width of the top", 1, 1e5, Unit::mm};
inline constexpr SizeBounds top_thickness{"thickness of the top", 0.05, 2000, Unit::mm};
inline constexpr SizeBounds recess_sides{"side of a recess or a land", 0.1, 1e5, Unit::mm};
inline constexpr SizeBounds recess_depth{"depth of a recess", 0.01, 2000, Unit::mm};
inline constexpr SizeBounds skin_left{"wood left over a recess", 0.01, 2000, Unit::mm};
inline constexpr SizeBounds line_length{"length of a stiffener or a line", 0.1, 1e5, Unit::mm};
inline constexpr SizeBounds pad_sides{"side of a pad", 0.1, 1e5, Unit::mm};
inline constexpr SizeBounds bearer_width{"width of a bearer", 0.01, 1e5, Unit::mm, true};
inline constexpr SizeBounds screw_diameter{"diameter of a screw", 0.5, 500, Unit::mm};
inline constexpr SizeBounds screw_length{"length of a screw", 1, 2000, Unit::mm};
inline constexpr SizeBounds screw_spacing{"spacing of screws", 1, 1e5, Unit::mm};
inline constexpr SizeBounds section_sizes{"size of a section", materials::least_section_size,
                                          materials::greatest_section_size, Unit::mm};
inline constexpr SizeBounds load_force{"force of a load, up or down", 1e-6, 1e7, Unit::N, true};
inline constexpr SizeBounds load_pressure{"pressure of a load, up or down", 1e-12, 10, Unit::MPa, true};

std::span<const MostParts> most_parts();
std::span<const SizeBounds> size_bounds();

/// "7 recesses are more than are computed; give at most 5": fault and remedy.
std::string too_many(const MostParts& limit, std::size_t count);
std::string at_most(const MostParts& limit);

} // namespace hollowtop
