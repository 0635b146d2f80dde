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

Message why_not_judged(const Piece& piece, const Stiffener& stiffener) {
    if (stiffener.elastic) return "not judged: no yield strength known of stated constants";
    if (!stiffener.metal.empty())
        return materials::find_metal(stiffener.metal).f_y ? Message()
                                                          : said("not judged: no yield strength known of {}",
                                                                 materials::find_metal(stiffener.metal).name);
    if (piece.allowables.basis == AllowablesBasis::strength_class && stiffener.wood != piece.top.wood)
        return said("not judged: {} is stated of the top, and the bar is of another wood",
                    piece.allowables.strength_class);
    return "";
}

std::vector<Message> not_judged_of_bars(const Piece& piece, const Response& response) {
    std::vector<Message> sentences;
    for (const Stiffener& stiffener : piece.stiffeners)
        if (const Message why = why_not_judged(piece, stiffener); !why.empty())
            sentences.push_back(said("The stress of \"{}\" is {}.", stiffener.name, why));
    if (response.situations.empty()) return sentences;
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
        sentences.push_back(
            said("The screws of \"{}\"{} are not judged: no strength is known of them in this wood.",
                 piece.stiffeners[i].name, which));
    }
    return sentences;
}

} // namespace hollowtop
