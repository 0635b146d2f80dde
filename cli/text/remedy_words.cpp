// SPDX-License-Identifier: MIT
#include "cli/text/remedy_words.hpp"

#include "cli/words/format.hpp"

#include <algorithm>
#include <array>
#include <cctype>

namespace hollowtop::cli {
namespace {

/// "white ash"; a name that begins with a country or a person keeps its capital.
std::string within_a_sentence(std::string wood) {
    if (!wood.empty() && !wood.starts_with("European") && !wood.starts_with("American"))
        wood[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(wood[0])));
    return wood;
}

std::string one_change(const Remedy& change, Units units) {
    const auto size = [&](double mm) { return dimension_text(mm, units); };
    const auto many = [](double n, const std::string& one) {
        return fixed(n, 0) + " " + one + (n == 1 ? "" : "s");
    };
    if (change.kind == "skin")
        return "recesses " + size(change.to - change.from) + " less deep (thinnest skin " + size(change.to) +
               ")";
    if (change.kind == "thickness")
        return "a board " + size(change.to) + " thick, its recesses as deep as drawn";
    if (change.kind == "rim")
        return "a rim " + size(change.to - change.from) + " wider all round (narrowest " + size(change.to) +
               ")";
    if (change.kind == "land")
        return many(change.to, "rib") + " of full thickness, " + size(40) + " wide, across each recess";
    if (change.kind == "screw_length")
        return "screws " + size(change.to) + " long instead of " + size(change.from);
    if (change.kind == "screw_diameter")
        return "screws " + size(change.to) + " thick instead of " + size(change.from);
    if (change.kind == "no_stiffener") return change.from == 1 ? "no stiffener" : "no stiffeners";
    if (change.kind == "screw_spacing")
        return "a screw every " + size(change.to) + " instead of " + size(change.from);
    if (change.kind == "hold_down") return "the top held down on every support";
    if (change.kind == "pads")
        return "pads and bearers " + size(change.to) + " wide instead of " + size(change.from);
    if (change.kind == "section") return "\"" + change.section + "\" for every stiffener";
    if (change.kind == "number")
        return fixed(change.to - change.from, 0) + (change.from > 0 ? " more" : "") + " stiffener" +
               (change.to - change.from == 1 ? "" : "s") + " \"" + change.section + "\", evenly spaced";
    if (change.kind == "supports_across")
        return "feet " + size(change.to) + " from the long sides instead of " + size(change.from);
    if (change.kind == "supports")
        return "feet " + size(change.to) + " from the ends instead of " + size(change.from);
    if (change.kind == "solid") return "a solid top of " + size(change.to);
    if (change.kind == "wood") return "the same top in " + within_a_sentence(change.wood);
    return "no more than " + percent_text(100 * change.to) + " of the loads";
}

} // namespace

std::string change_words(const Remedy& change, Units units) {
    std::string text = one_change(change, units);
    if (!change.also.empty()) text += ", and " + one_change(change.also.front(), units);
    return text;
}

std::string kind_words(const Remedy& change) {
    if (change.kind == "skin") return "a shallower recess";
    if (change.kind == "thickness") return "a thicker board";
    if (change.kind == "rim") return "a wider rim";
    if (change.kind == "land") return "ribs across the recess";
    if (change.kind == "screw_length") return "other screws";
    if (change.kind == "screw_diameter") return "thinner screws";
    if (change.kind == "no_stiffener") return "leaving the stiffeners away";
    if (change.kind == "supports_across") return "moving the feet across the top";
    if (change.kind == "screw_spacing") return "another spacing of the screws";
    if (change.kind == "hold_down") return "holding the top down";
    if (change.kind == "pads") return "larger pads";
    if (change.kind == "section") return "a larger stiffener";
    if (change.kind == "number") return "more stiffeners";
    if (change.kind == "supports") return "moving the feet along the top";
    if (change.kind == "solid") return "a thicker solid top";
    if (change.kind == "wood") return "a stronger wood";
    return "half the load";
}

std::string solid_too_words(const SolidToo& solid, double thickness_mm, Units units) {
    static constexpr std::array<const char*, 5> of_the_wood{"sag", "bending", "flatness", "dish", "together"};
    const bool is_thin = std::any_of(of_the_wood.begin(), of_the_wood.end(), [&](const char* word) {
        return solid.governing_check.find(word) != std::string::npos;
    });
    if (!is_thin) return "Hollowed or not, it does not meet them";
    return "Hollowed or not, " + dimension_text(thickness_mm, units) + " is too thin for this use";
}

} // namespace hollowtop::cli
