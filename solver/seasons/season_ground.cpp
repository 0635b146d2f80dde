// SPDX-License-Identifier: MIT
#include "solver/seasons/season_ground.hpp"

#include "materials/moisture.hpp"
#include "materials/wood.hpp"
#include "solver/capacity/allowables.hpp"
#include "solver/shell/shell.hpp"

namespace hollowtop {

Ground ground_of(const Piece& piece, Seasons& out) {
    out.moisture = moisture_range(piece);
    const materials::Wood& wood = materials::find_wood(piece.top.wood);
    out.across = materials::movement_per_percent(wood, piece.top.ring_angle_deg);
    out.through = materials::movement_per_percent(wood, 90 - piece.top.ring_angle_deg);
    const Elastic elastic = elastic_of(piece);
    const PlaneStiffness plane = plane_stiffness(elastic, piece.top.grain_deg);
    const double grain = plane.grain_rad;
    return {.piece = piece,
            .out = out,
            .field = thickness_field(piece, plane, false),
            .plane = plane,
            .elastic = elastic,
            .along = {std::cos(grain), std::sin(grain)},
            .across = {-std::sin(grain), std::cos(grain)},
            .relaxation = {.creep = materials::k_def(piece.allowables.service_class).value},
            .allowed = allowables_of(piece, Duration::long_term)};
}

} // namespace hollowtop
