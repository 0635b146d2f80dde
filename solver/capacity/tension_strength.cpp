// SPDX-License-Identifier: MIT
#include "solver/capacity/tension_strength.hpp"

#include <cmath>

namespace hollowtop {

double utilisation_across(double stress, const materials::AllowableStresses& allowables) {
    return stress >= 0 ? stress / allowables.tension_across_block.value
                       : -stress / allowables.compression_across.value;
}

double effective_tension_across(const TensionAcross& tension,
                                const materials::AllowableStresses& allowables) {
    return tension.norm / std::pow(allowables.tension_across_volume_mm3, 1.0 / tension.exponent);
}

double tension_strength_at_a_place(const std::optional<TensionAcross>& tension,
                                   const materials::AllowableStresses& allowables) {
    const double even = allowables.tension_across.value;
    if (!tension || !(tension->thickness > 0)) return even;
    constexpr double hardly_any = 1e-9; // of the strength
    const double effective = effective_tension_across(*tension, allowables);
    if (!(effective > hardly_any * even)) return even;
    // points of a mesh find a sharp peak higher the finer they lie; what is judged at a place is a mean
    const double greatest = tension->mean > 0 ? std::min(tension->peak, tension->mean) : tension->peak;
    // a box bent to s bears as hard as under the even tension (2 (m + 1))^(-1/m) s (V/V_0)^(1/m)
    const int m = tension->exponent;
    const double cube = std::pow(tension->thickness, 3) / allowables.tension_across_volume_mm3;
    const double most = std::pow(2 * (m + 1) / cube, 1.0 / m);
    return even * std::min(greatest / effective, most);
}

} // namespace hollowtop
