// SPDX-License-Identifier: MIT
// Pressure across the grain: of the supports on the underside, of the loads on the faces.
#include "materials/digits.hpp"
#include "solver/checks/judges.hpp"

#include <cmath>

namespace hollowtop {

std::optional<CheckResult> judge_bearing(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    const SupportForce* most = nullptr;
    for (const SupportForce& support : input.situation.supports)
        if (support.pressure_MPa > 0 && (!most || is_more(support.pressure_MPa, most->pressure_MPa)))
            most = &support;
    if (!most) return std::nullopt; // knife edges and held lines have no area
    CheckResult row;
    row.demand = most->pressure_MPa;
    row.capacity = input.allowables->bearing.value;
    row.unit = "MPa";
    row.at = most->pressure_at;
    row.basis = said("at {}; {}", most->support, input.allowables->bearing.basis);
    row.remedy = "make the pad or the bearer larger";
    if (row.demand > row.capacity)
        for (const Support& support : input.piece.supports) {
            const auto* pad = std::get_if<Pad>(&support.kind);
            if (pad && support.name == most->support)
                row.remedy = said("make the pad larger, or {}",
                                  plate_under(pad->size_x, pad->size_y, row.demand / row.capacity));
        }
    return row;
}

std::optional<CheckResult> judge_load_bearing(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    const LoadBearing* most = nullptr;
    for (const LoadBearing& bearing : input.situation.load_bearings)
        if (bearing.pressure_MPa > 0 && (!most || is_more(bearing.pressure_MPa, most->pressure_MPa)))
            most = &bearing;
    if (!most) return std::nullopt; // points and lines have no area
    CheckResult row;
    row.demand = most->pressure_MPa;
    row.capacity = input.allowables->bearing.value;
    row.unit = "MPa";
    row.at = most->at;
    row.basis = said("under {}; {}", most->what, input.allowables->bearing.basis);
    row.remedy = "spread the load";
    if (row.demand > row.capacity && most->size.x > 0 && most->size.y > 0)
        row.remedy = plate_under(most->size.x, most->size.y, row.demand / row.capacity);
    return row;
}

Message plate_under(double size_x, double size_y, double utilisation) {
    const double by = std::sqrt(utilisation);
    constexpr double step = 5; // mm
    const auto wide = [&](double size) { return step * std::ceil(size * by / step - 1e-9); };
    return said("put a stiff plate of {} between",
                amounts({wide(size_x), wide(size_y)}, " x ", Unit::mm, significant(4)));
}

} // namespace hollowtop
