// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a wood is: its row in the table of woods, and the names that people type.
///
/// Sources: Wood Handbook FPL-GTR-190 tables 5-1, 5-3a, 5-5a; each row of data/*.csv names its own.

#include "materials/duration.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::materials {

/// One row of data/woods.csv: means of small clear pieces at 12 % moisture content. Empty: the source gives
/// no value.
struct Wood {
    std::string id, common_name, botanical_name;
    bool softwood = false;
    double sg_12 = 0, density_12_kg_m3 = 0;
    std::optional<double> mor, moe, comp_par, comp_perp_pl, shear_par, tension_perp; ///< MPa
    std::optional<double> side_hardness_N;
    std::optional<double> shrink_R_percent, shrink_T_percent, shrink_V_percent;
    std::optional<double> coef_R_per_percent, coef_T_per_percent;
    std::string source, status, shrink_status, coef_status, note;
    std::string moe_source, moe_status; ///< of the bending modulus, which may have a source of its own
};

const std::vector<Wood>& woods();

/// The wood of that id, common name or name of the trade ("black cherry", "black_cherry", "Cherries",
/// "cherry_black" are one).
/// Throws Error(input): a name that means several woods lists them, one without a row names its relatives, a
/// sheet's is sent to the sheets, an unknown one names the nearest known names.
const Wood& find_wood(std::string_view name);

} // namespace hollowtop::materials
