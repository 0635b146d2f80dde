// SPDX-License-Identifier: MIT
// Pressure of the loads on the faces of the top, across the grain.
#include "solver/checks/judges.hpp"

#include "materials/digits.hpp"

#include <cmath>

namespace hollowtop {

std::optional<CheckResult> judge_load_bearing(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    const LoadBearing* most = nullptr;
    for (const LoadBearing& bearing : input.situation.load_bearings)
        if (bearing.pressure_MPa > 0 && (!most || is_more(bearing.pressure_MPa, most->pressure_MPa))) most = &bearing;
    if (!most) return std::nullopt; // points and lines have no area
    CheckResult row;
    row.demand = most->pressure_MPa;
    row.capacity = input.allowables->bearing.value;
    row.unit = "MPa";
    row.at = most->at;
    row.basis = "under " + most->what + "; " + input.allowables->bearing.basis;
    row.remedy = "spread the load";
    if (row.demand > row.capacity && most->size.x > 0 && most->size.y > 0)
        row.remedy = plate_under(most->size.x, most->size.y, row.demand / row.capacity);
    return row;
}

std::string plate_under(double size_x, double size_y, double utilisation) {
    const double by = std::sqrt(utilisation);
    constexpr double step = 5; // mm
    const auto wide = [&](double size) { return materials::digits(step * std::ceil(size * by / step - 1e-9), 4); };
    return "put a stiff plate of " + wide(size_x) + " x " + wide(size_y) + " mm between";
}

} // namespace hollowtop
