// SPDX-License-Identifier: MIT
// What the checks of the face stresses share.
#include "solver/checks/judges.hpp"

namespace hollowtop {

double utilisation_across(double stress, const materials::AllowableStresses& allowables) {
    return stress >= 0 ? stress / allowables.tension_across.value
                       : -stress / allowables.compression_across.value;
}

} // namespace hollowtop
