// SPDX-License-Identifier: MIT
#include "solver/readout/sag_in_time.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {

double share_of_creep(double years) {
    constexpr double exponent = 0.2;
    return years <= 0 ? 0 : std::pow(std::min(years, creep_life_years) / creep_life_years, exponent);
}

std::vector<SagInTime> sag_in_time(const Response& response, double asked_years) {
    const auto in_stage = [&](Stage stage) {
        return std::find_if(response.situations.begin(), response.situations.end(),
                            [&](const auto& s) { return s.stage == stage; });
    };
    const auto now = in_stage(Stage::at_once), end = in_stage(Stage::years);
    std::vector<SagInTime> rows;
    if (now == response.situations.end() || end == response.situations.end()) return rows;
    std::vector<double> told{0, 1, 5, 10, 25, creep_life_years};
    if (asked_years > 0 && asked_years <= creep_life_years) told.push_back(asked_years);
    std::sort(told.begin(), told.end());
    told.erase(std::unique(told.begin(), told.end()), told.end());
    for (const double years : told)
        rows.push_back(
            {.years = years, .sag_mm = now->sag_mm + share_of_creep(years) * (end->sag_mm - now->sag_mm)});
    return rows;
}

Message sag_in_time_basis() {
    return "at once and after 50 years computed (k_def of EN 1995-1-1); between them creep grows with time "
           "to the power 0.2, our interpolation";
}

} // namespace hollowtop
