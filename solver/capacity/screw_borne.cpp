// SPDX-License-Identifier: MIT
#include "solver/capacity/screw_borne.hpp"

#include "materials/screw.hpp"
#include "materials/section.hpp"
#include "materials/wood.hpp"
#include "solver/interface/beam.hpp"
#include "solver/shell/shell.hpp"

namespace hollowtop {

ScrewBorne borne_by_screw(const Piece& piece, const Stiffener& stiffener, double thread) {
    ScrewBorne borne;
    if (!(thread > 0)) return borne;
    const double d = stiffener.screws.diameter, density = elastic_of(piece).density_kg_m3.value_or(0);
    if (!piece.top.wood.empty())
        borne.pulled_N =
            materials::withdrawal_handbook(materials::find_wood(piece.top.wood).sg_12, d, thread).value;
    if (!(density > 0)) return borne;
    const materials::Shear one{.d = materials::effective_diameter(d).value, .axial = borne.pulled_N};
    const double grip = materials::parse_section(stiffener.section).grip;
    if (!is_of_wood(stiffener)) {
        borne.shear_N = materials::shear_steel_plate(one, grip, thread, density);
        return borne;
    }
    const double of_bar = stiffener.wood.empty() ? stiffener.elastic->density_kg_m3
                                                 : materials::find_wood(stiffener.wood).density_12_kg_m3;
    borne.shear_N = materials::shear_timber(one, grip, of_bar > 0 ? of_bar : density, thread, density).least;
    return borne;
}

} // namespace hollowtop
