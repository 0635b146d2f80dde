// SPDX-License-Identifier: MIT
#include "solver/capacity/allowables.hpp"

#include <map>
#include <string>
#include <tuple>

namespace hollowtop {

std::optional<materials::AllowableStresses> allowables_of(const Piece& piece, Duration duration,
                                                          LoadFor judged_for) {
    if (!piece.top.sheet.empty())
        return std::nullopt; // its bending has a check of its own, and nothing else is known
    if (piece.allowables.basis == AllowablesBasis::strength_class)
        return materials::class_allowables(piece.allowables.strength_class, piece.allowables.service_class,
                                           duration);
    if (piece.top.wood.empty()) return std::nullopt;
    // one wood in a thousand variants: the last answers are kept
    using Asked = std::tuple<std::string, double, double, double, Duration, materials::Against>;
    thread_local std::map<Asked, materials::AllowableStresses> known;
    constexpr std::size_t most_known = 32;
    const Asked asked{
        piece.top.wood, piece.top.ring_angle_deg, piece.top.moisture_percent, piece.allowables.grade_ratio,
        duration,       against(judged_for)};
    const auto found = known.find(asked);
    if (found != known.end()) return found->second;
    if (known.size() >= most_known) known.clear();
    const materials::AllowableStresses fresh = materials::handbook_allowables(
        materials::find_wood(piece.top.wood), piece.top.ring_angle_deg, piece.top.moisture_percent,
        piece.allowables.grade_ratio, duration, against(judged_for));
    known.emplace(asked, fresh);
    return fresh;
}

} // namespace hollowtop
