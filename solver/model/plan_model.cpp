// SPDX-License-Identifier: MIT
#include "solver/model/plan_model.hpp"

#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"
#include "solver/interface/connections.hpp"
#include "solver/section/top_material.hpp"
#include "solver/shell/shell.hpp"

#include <cmath>

namespace hollowtop {

double through_thickness_modulus(const Piece& piece) {
    if (const std::optional<Elastic> stated = stated_elastic(piece.top))
        return stated->E3.value_or(stated->E2);
    const materials::PlaneConstants plane =
        materials::turned_by_rings(wood_constants_of(piece.top), piece.top.ring_angle_deg);
    return plane.E3 > 0 ? plane.E3 : plane.E2;
}

ModelPlan plan_model(const Piece& piece, bool with_wall_compliance, bool glued_too, bool coarse_beds) {
    ModelPlan plan{.plane = plane_of(piece),
                   .field = {},
                   .through_thickness_modulus = through_thickness_modulus(piece),
                   .supports = {},
                   .bars = {}};
    plan.field = thickness_field(piece, plan.plane, with_wall_compliance);
    plan.supports = plan_supports(piece, plan.field, plan.plane, plan.through_thickness_modulus, coarse_beds);
    plan.bars = plan_connections(piece, plan.field, plan.through_thickness_modulus, plan.plane.density * 1e9,
                                 glued_too);
    MeshWishes& wishes = plan.supports.wishes;
    wishes.attractors_x.insert(wishes.attractors_x.end(), plan.bars.wishes.attractors_x.begin(),
                               plan.bars.wishes.attractors_x.end());
    wishes.attractors_y.insert(wishes.attractors_y.end(), plan.bars.wishes.attractors_y.begin(),
                               plan.bars.wishes.attractors_y.end());
    plan.supports.assumptions.insert(plan.supports.assumptions.end(), plan.bars.assumptions.begin(),
                                     plan.bars.assumptions.end());
    plan.supports.warnings.insert(plan.supports.warnings.end(), plan.bars.warnings.begin(),
                                  plan.bars.warnings.end());
    for (const Load& load : piece.loads) { // a line load bends the top to a kink: a mesh line lets it
        const auto* line = std::get_if<LineLoad>(&load.kind);
        if (line && std::abs(line->from.x - line->to.x) < 1e-7) wishes.lines_x.push_back(line->from.x);
        if (line && std::abs(line->from.y - line->to.y) < 1e-7) wishes.lines_y.push_back(line->from.y);
    }
    return plan;
}

} // namespace hollowtop
