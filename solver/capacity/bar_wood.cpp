// SPDX-License-Identifier: MIT
#include "solver/capacity/bar_wood.hpp"

#include "materials/metal.hpp"
#include "materials/wood.hpp"
#include "solver/capacity/screw_strength.hpp"

namespace hollowtop {

std::optional<materials::AllowableStresses>
strengths_of_bar(const Piece& piece, const SituationResponse& situation,
                 const std::optional<materials::AllowableStresses>& of_top, const Stiffener& stiffener) {
    if (stiffener.wood.empty()) return std::nullopt;
    if (piece.allowables.basis == AllowablesBasis::strength_class)
        return stiffener.wood == piece.top.wood ? of_top : std::nullopt;
    return materials::handbook_allowables(materials::find_wood(stiffener.wood), 0, piece.top.moisture_percent,
                                          piece.allowables.grade_ratio, situation.duration,
                                          against(situation.judged_for));
}

std::string why_not_judged(const Piece& piece, const Stiffener& stiffener) {
    if (stiffener.elastic) return "not judged: no yield strength known of stated constants";
    if (!stiffener.metal.empty())
        return materials::find_metal(stiffener.metal).f_y
                   ? ""
                   : "not judged: no yield strength known of " + materials::find_metal(stiffener.metal).name;
    if (piece.allowables.basis == AllowablesBasis::strength_class && stiffener.wood != piece.top.wood)
        return "not judged: " + piece.allowables.strength_class +
               " is stated of the top, and the bar is of another wood";
    return "";
}

std::vector<std::string> not_judged_of_bars(const Piece& piece, const Response& response) {
    std::vector<std::string> said;
    for (const Stiffener& stiffener : piece.stiffeners)
        if (const std::string why = why_not_judged(piece, stiffener); !why.empty())
            said.push_back("The stress of \"" + stiffener.name + "\" is " + why + ".");
    if (response.situations.empty()) return said;
    ScrewUses uses(piece);
    const SituationResponse& first = response.situations.front();
    std::vector<bool> asked(piece.stiffeners.size(), false);
    for (const ScrewForce& screw : first.screws) {
        const auto i = static_cast<std::size_t>(screw.stiffener);
        if (asked[i]) continue;
        asked[i] = true;
        const ScrewUse use = uses.of(screw, first.duration);
        if (use.shear && use.withdrawal) continue;
        const std::string which = !use.shear && !use.withdrawal ? ""
                                  : use.shear                   ? ", pulled out,"
                                                                : ", in shear,";
        said.push_back("The screws of \"" + piece.stiffeners[i].name + "\"" + which +
                       " are not judged: no strength is known of them in this wood.");
    }
    return said;
}

} // namespace hollowtop
