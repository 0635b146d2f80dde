// SPDX-License-Identifier: MIT
// Face stress at a recess wall, mean over one skin thickness, from the wall's own solved cross-section. At
// the root, where it has a peak that no thickness of the skin tells of, the mean is compared with the
// strength of the handbook's volume. The top face over the wall is smooth: its tension across the grain is
// summed up along all walls, one skin thickness wide, as a weakest link sees it.
#include "materials/digits.hpp"
#include "materials/weakest_link.hpp"
#include "solver/checks/judges.hpp"
#include "solver/readout/walls.hpp"
#include "solver/shell/shell.hpp"
#include "solver/shell/tension_across.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

namespace hollowtop {
namespace {

struct Greatest {
    double share = -1, stress = 0;
    bool across = false, on_top = false;
};

Greatest greatest_of(const WallFaces& faces, const materials::AllowableStresses& allowables) {
    Greatest best;
    for (const bool on_top : {true, false}) {
        const std::array<double, 3>& face = on_top ? faces.top : faces.bottom;
        const double along = std::abs(face[0]) / allowables.bending_along.value,
                     across = on_top && face[1] > 0 ? 0 : utilisation_across(face[1], allowables);
        if (along > best.share) best = {along, face[0], false, on_top};
        if (across > best.share) best = {across, face[1], true, on_top};
    }
    return best;
}

/// Corner radii that cutters come in (common practice), mm.
constexpr std::array<double, 6> cutter_radii{3, 5, 6, 8, 10, 12};

/// What the smallest larger cutter would bring that lowers the share by a tenth under the same load of the
/// wall; empty where none fits or helps. A stiffer wall draws more load, which here is not computed: of seven
/// tops five kept half of the gain to two thirds, two nothing.
Message gain_of_radius(const PlaneStiffness& plane, const WallSample& wall,
                       const materials::AllowableStresses& allowables, double share) {
    for (const double radius : cutter_radii) {
        if (radius <= wall.root_radius || radius > 0.9 * (wall.thick - wall.skin)) continue;
        const double with = greatest_of(wall_faces(plane, wall, radius), allowables).share;
        if (with > 0.9 * share) continue;
        return said("; a cutter with a corner radius of {} instead of {} lowers it by at most {} %, as a "
                    "stiffer wall "
                    "draws more load: check again with it",
                    amount(radius, Unit::mm), amount(wall.root_radius, Unit::mm),
                    number(100 * (1 - with / share), significant(2)));
    }
    return "";
}

/// Tension across the grain at the top face over the walls.
struct OverWalls {
    TensionAcross sum{};
    void add(const WallSample& wall, const WallFaces& faces) {
        const double top = faces.top[1];
        if (!(top > 0)) return;
        const double ring =
            wall.length * wall.skin * wall.skin * mean_through_thickness(top, faces.bottom[1], sum.exponent);
        sum.norm = std::pow(std::pow(sum.norm, sum.exponent) + ring, 1.0 / sum.exponent);
        if (is_more(top, sum.peak)) {
            sum.peak = top;
            sum.at = wall.at;
        }
    }
};

} // namespace

std::optional<CheckResult> judge_wall_stress(const CheckInput& input) {
    if (!input.allowables || input.situation.walls.empty()) return std::nullopt;
    const PlaneStiffness& plane = input.plane;
    const WallSample* worst = nullptr;
    Greatest best;
    OverWalls over{.sum = {.exponent = materials::weakest_link().exponent}};
    for (const WallSample& wall : input.situation.walls) {
        const WallFaces faces = wall_faces(plane, wall, wall.root_radius);
        over.add(wall, faces);
        const Greatest here = greatest_of(faces, *input.allowables);
        if (!is_more(here.share, best.share)) continue;
        best = here;
        worst = &wall;
    }
    if (!worst) return std::nullopt;
    const materials::Allowable& allowable = !best.across       ? input.allowables->bending_along
                                            : best.stress >= 0 ? input.allowables->tension_across_block
                                                               : input.allowables->compression_across;
    CheckResult row;
    row.unit = "MPa";
    const double effective = effective_tension_across(over.sum, *input.allowables);
    if (effective / input.allowables->tension_across.value > best.share) {
        row.demand = effective;
        row.capacity = input.allowables->tension_across.value;
        row.at = over.sum.at;
        row.basis = said(
            "across the grain, tension at the top face: the even tension that is as hard on the volume of "
            "the strength as this is along the walls, one skin thickness wide (Weibull 1939, {}); "
            "greatest {}, mean over one skin thickness; {}",
            materials::weakest_link().exponent_said, amount(over.sum.peak, Unit::MPa),
            input.allowables->tension_across.basis);
        row.remedy = "leave the skin thicker, or make the recess narrower";
        return row;
    }
    row.demand = std::abs(best.stress);
    row.capacity = allowable.value;
    row.at = worst->at;
    row.basis = said("{} the grain, {}{}, mean over one skin thickness; {}", best.across ? "across" : "along",
                     best.stress >= 0 ? "tension" : "compression",
                     best.on_top ? " at the top face" : " at the root", allowable.basis);
    row.remedy = "leave the skin thicker, or make the recess narrower";
    if (!input.briefly) row.remedy += gain_of_radius(plane, *worst, *input.allowables, best.share);
    return row;
}

} // namespace hollowtop
