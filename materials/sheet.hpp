// SPDX-License-Identifier: MIT
#pragma once
/// \file  Sheet goods for covers, one row of data/sheets.csv each. The rows of standards are lower limits that a batch must
/// pass, not means; handbook rows are ranges of a whole family. mm, kg/m3, MPa.

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
};

const std::vector<Sheet>& sheets();

/// By id. Throws Error(input) with the nearest ids.
const Sheet& find_sheet(std::string_view id);

} // namespace hollowtop::materials
