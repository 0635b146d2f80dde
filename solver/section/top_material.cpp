// SPDX-License-Identifier: MIT
#include "solver/section/top_material.hpp"

#include "materials/panel.hpp"

namespace hollowtop {

std::optional<Elastic> stated_elastic(const Top& top) {
    if (top.elastic || top.sheet.empty()) return top.elastic;
    const materials::PanelConstants panel = materials::panel_constants(
        materials::find_sheet(top.sheet), top.measured.E_along, top.measured.density_kg_m3);
    return Elastic{.E1 = panel.E1,
                   .E2 = panel.E2,
                   .nu12 = panel.nu12,
                   .G12 = panel.G12,
                   .G13 = panel.G13,
                   .G23 = panel.G23,
                   .density_kg_m3 = panel.density_kg_m3,
                   .E3 = panel.E3};
}

materials::Sourced creep_of(const Piece& piece) {
    const int service_class = piece.allowables.service_class;
    return piece.top.sheet.empty()
               ? materials::k_def(service_class)
               : materials::panel_k_def(materials::find_sheet(piece.top.sheet), service_class);
}

} // namespace hollowtop
