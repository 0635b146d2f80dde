// SPDX-License-Identifier: MIT
// Splitting from the root of a recess wall into the rim: energy released against the wood's fracture energy.
// What is compared is the root of both: it goes with the load.
#include "materials/digits.hpp"
#include "materials/fracture.hpp"
#include "solver/capacity/allowables.hpp"
#include "solver/checks/judges.hpp"
#include "solver/readout/walls.hpp"
#include "solver/shell/shell.hpp"

#include <cmath>
#include <string>

namespace hollowtop {

std::optional<CheckResult> judge_splitting(const CheckInput& input) {
    if (!input.allowables || input.situation.walls.empty()) return std::nullopt;
    const PlaneStiffness& plane = input.plane;
    const materials::Allowable energy =
        input.piece.allowables.basis == AllowablesBasis::strength_class
            ? materials::class_fracture_energy(input.piece.allowables.strength_class,
                                               input.piece.allowables.service_class, input.situation.duration)
            : materials::handbook_fracture_energy(materials::find_wood(input.piece.top.wood),
                                                  input.situation.duration,
                                                  against(input.situation.judged_for));
    constexpr double little = 0.2; // share of the load below which a bound is enough
    CheckResult row;
    Splitting most;
    for (const WallSample& wall : input.situation.walls) {
        const Splitting here = splitting_at(plane, wall, little * little * energy.value);
        if (row.at && !is_more(here.energy, most.energy)) continue;
        most = here;
        row.at = wall.at;
    }
    // the energy goes as the square of the load: its root compares as every other check does
    row.demand = std::sqrt(most.energy / energy.value);
    row.capacity = 1;
    row.unit = std::string("1");
    row.basis =
        most.energy > 0
            ? said("the load opens the root; root of the energy, {}{} N/mm, over what may be used; {}",
                   most.is_bound ? "at most " : "", number(most.energy), energy.basis)
            : said("the load closes every root; {}", energy.basis);
    row.remedy = "leave the skin thicker, or end the recess where the top bends less";
    return row;
}

} // namespace hollowtop
