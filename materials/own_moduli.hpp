// SPDX-License-Identifier: MIT
#pragma once
/// \file  Moduli that a source gives a wood as such, not as ratios: the rows of data/elastic_moduli.csv. MPa.

#include <optional>
#include <string>
#include <string_view>

namespace hollowtop::materials {

/// A row of data/elastic_moduli.csv.
struct OwnModuli {
    std::optional<double> E_R, E_T, G_LR, G_LT, G_RT; ///< all or none
    double moe = 0;
    std::string moe_source, moe_status, source, status;
};
/// Those of the wood with that id; empty where it has no row.
std::optional<OwnModuli> own_moduli_of(std::string_view id);

} // namespace hollowtop::materials
