// SPDX-License-Identifier: MIT
#include "solver/capacity/allowables.hpp"

namespace hollowtop {

std::optional<materials::AllowableStresses> allowables_of(const Piece& piece, Duration duration,
                                                          LoadFor judged_for) {
    if (!piece.top.sheet.empty())
        return std::nullopt; // its bending has a check of its own, and nothing else is known
    if (piece.allowables.basis == AllowablesBasis::strength_class)
        return materials::class_allowables(piece.allowables.strength_class, piece.allowables.service_class,
                                           duration);
    if (piece.top.wood.empty()) return std::nullopt;
    return materials::handbook_allowables(materials::find_wood(piece.top.wood), piece.top.ring_angle_deg,
                                          piece.top.moisture_percent, piece.allowables.grade_ratio, duration,
                                          against(judged_for));
}

const std::optional<materials::AllowableStresses>& KeptAllowables::of(const Piece& piece, Duration duration,
                                                                      LoadFor judged_for) {
    constexpr std::size_t most_known = 16; // of one piece at most 14: each duration, of use or of a test
    const Top& top = piece.top;
    const Allowables& asked = piece.allowables;
    Key key{top.sheet,   top.wood,           top.ring_angle_deg,   top.moisture_percent,
            asked.basis, asked.grade_ratio,  asked.strength_class, asked.service_class,
            duration,    against(judged_for)};
    if (const auto found = known_.find(key); found != known_.end()) return found->second;
    auto fresh = allowables_of(piece, duration, judged_for);
    if (known_.size() >= most_known) known_.clear();
    return known_.emplace(std::move(key), std::move(fresh)).first->second;
}

std::size_t KeptAllowables::bytes() const {
    std::size_t bytes = 0;
    for (const auto& [key, allowables] : known_) {
        bytes += sizeof(key) + sizeof(allowables);
        if (!allowables) continue;
        for (const materials::Allowable* one :
             {&allowables->bending_along, &allowables->tension_across, &allowables->compression_across,
              &allowables->shear, &allowables->rolling_shear, &allowables->tension_across_block,
              &allowables->bearing})
            bytes += one->basis.bytes();
    }
    return bytes;
}

} // namespace hollowtop
