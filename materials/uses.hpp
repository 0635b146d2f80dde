// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a top is used for: the loads and the limits that a stated use brings, one row of data/uses.csv
/// each, its loads from data/use_loads.csv. A use is a set of loads to reckon with; it never says that a
/// standard is met.

#include "materials/duration.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::materials {

struct UseLoad {
    enum class Kind { area, patch, line };
    enum class Where { everywhere, middle, along_the_middle, worst, edge };
    /// What the load is judged for: everything; all but how far the top gives; tipping and lifting off alone.
    enum class For { everyday, strength, stability };
    std::string id, name;
    Kind kind = Kind::area;
    double value = 0;              ///< as the table gives it: kPa, N, or N per m of length
    std::string unit;              ///< of `value`
    double size_x = 0, size_y = 0; ///< of a patch, mm
    Where where = Where::everywhere;
    Duration duration = Duration::short_term;
    For judged_for = For::everyday;
    Message source;
    std::string status;
};

struct Use {
    std::string id, name;
    std::vector<std::string> also;                  ///< other names that mean it
    double sag_divisor = 0, sag_years_divisor = 0;  ///< span / N
    std::optional<double> flatness, flatness_years; ///< mm under a straightedge; none: the use sets no limit
    std::vector<UseLoad> loads;                     ///< in the table's order
    Message source;                                 ///< of the limits
    std::string status;
    Message note;
};

/// Sorted by id.
const std::vector<Use>& uses();

/// By id, name or another name of it. Throws Error(input) with the nearest names.
const Use& find_use(std::string_view name);

/// How far inside the outline a load at the edge stands, mm (stability tests of tables, from memory).
inline constexpr double edge_place_mm = 50;

/// "everywhere", "middle", "along the middle", "worst", "edge": the words of the table.
const char* to_words(UseLoad::Where where);
/// "everyday", "strength", "stability": the words of the table and of the piece file.
const char* to_words(UseLoad::For judged_for);

} // namespace hollowtop::materials
