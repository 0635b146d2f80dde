// SPDX-License-Identifier: MIT
// What the checks of the face stresses share.
#include "solver/checks/judges.hpp"

#include <algorithm>

namespace hollowtop {

double greater_face(const StressSample& sample,
                    const std::function<double(const std::array<double, 3>&)>& metric) {
    return std::max(metric(sample.top), metric(sample.bottom));
}

std::string face_word(const StressSample& sample,
                      const std::function<double(const std::array<double, 3>&)>& metric) {
    return metric(sample.top) >= metric(sample.bottom) ? "at the top face" : "at the underside";
}

double utilisation_across(double stress, const materials::AllowableStresses& allowables) {
    return stress >= 0 ? stress / allowables.tension_across.value
                       : -stress / allowables.compression_across.value;
}

} // namespace hollowtop
