// SPDX-License-Identifier: MIT
#pragma once
/// \file  Sheet goods for covers and tops, one row of data/sheets.csv each. The rows of standards are lower
/// limits that a batch must pass, not means; handbook rows are ranges of a whole family. mm, kg/m3, MPa.

#include "materials/table.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::materials {

struct Sheet {
    std::string id, name;
    std::optional<Range> thickness, density_kg_m3;
    std::optional<Range> E_along, E_across, bending_along,
        bending_across; ///< along: face grain or strong direction
    std::optional<double> thickness_tolerance;
    std::string source, status, note;
    std::string kind;   ///< "plywood", "OSB", "particleboard", "MDF", "hardboard"
    std::string values; ///< "limit", "design" or "range": what the numbers are, see the table's first line
};

const std::vector<Sheet>& sheets();

/// By id, or by kind and thickness: "birch plywood 18", "MDF 19 mm"; `thickness` in mm stands in for one that
/// the name leaves out.
/// Throws Error(input): with the nearest ids, or with the thicknesses that there are.
const Sheet& find_sheet(std::string_view name, std::optional<double> thickness = {});

/// Is sheet goods meant: "plywood", "MDF", "chipboard"? For a top whose "wood" says so.
bool names_a_sheet(std::string_view name);

/// Is a sheet of that row made so thick?
bool is_made_so_thick(const Sheet& sheet, double thickness);

} // namespace hollowtop::materials
