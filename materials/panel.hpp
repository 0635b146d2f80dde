// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a sheet is as a top: elastic constants, bending strength, creep. MPa, kg/m3.
///
/// data/sheets.csv gives moduli and strengths in bending alone; what is left out stands in
/// data/panel_rules.csv, each with its source. Shear strengths, splitting, bearing and the holding of screws
/// are not known here, and no function gives them.

#include "materials/message.hpp"
#include "materials/sheet.hpp"
#include "materials/strength.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop::materials {

struct PanelConstants {
    double E1 = 0, E2 = 0, E3 = 0, nu12 = 0, G12 = 0, G13 = 0,
           G23 = 0; ///< 1 along the face grain, 2 across it, 3 through the thickness
    double density_kg_m3 = 0;
    bool same_both_ways = false; ///< in its plane
    std::vector<Message> assumptions;
};

/// Throws Error(input) where the table leaves out what a top needs: a modulus along, for plywood and OSB
/// across as well. A measured modulus along replaces the table's, and the others follow it.
PanelConstants panel_constants(const Sheet& sheet, std::optional<double> measured_E_along = {},
                               std::optional<double> measured_density_kg_m3 = {});

/// How a sheet's strength is made safe.
struct PanelFormat {
    bool by_class =
        false; ///< EN 1995-1-1: k_mod / gamma_M; else as the handbook's: duration and safety on the strength
    int service_class = 1;
    Duration duration = Duration::short_term;
    bool is_test = false; ///< the load is the force of a test; counts on the handbook basis alone
};

struct PanelBending {
    Allowable along, across;
};

/// Throws Error(input) where no bending strength is known, or where the sheet is not made for the service
/// class.
PanelBending panel_bending(const Sheet& sheet, const PanelFormat& format);

/// EN 1995-1-1 table 3.2.
Sourced panel_k_def(const Sheet& sheet, int service_class);

/// What its thickness may be off by, and what that does to the stiffness; empty where no tolerance is known.
Message thickness_words(const Sheet& sheet, double thickness);

} // namespace hollowtop::materials
