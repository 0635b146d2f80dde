// SPDX-License-Identifier: MIT
#include "solver/piece/plausible.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace hollowtop {
namespace {

Message millimetres(double mm) { return amount(mm, Unit::mm, decimals(1)); }

void look_at_sizes(const Piece& piece, std::vector<Message>& doubts) {
    const Top& top = piece.top;
    constexpr double smallest = 200, largest = 8000;
    const double longest = std::max(top.length, top.width), shortest = std::min(top.length, top.width);
    if (longest < smallest)
        doubts.push_back(
            said("The top is only {} x {}: were centimetres or inches meant? A length without a unit "
                 "is in the \"units\" of the file.",
                 millimetres(top.length), millimetres(top.width)));
    else if (longest > largest)
        doubts.push_back(said("The top is {} long: is a digit too many in it, or another unit meant?",
                              millimetres(longest)));
    constexpr double thinnest = 8, thickest = 150;
    if (top.thickness < thinnest || (top.thickness > thickest && top.thickness > shortest / 4))
        doubts.push_back(
            said("The top is {} thick: were centimetres or inches meant?", millimetres(top.thickness)));
}

/// By the density that is stated, else as if it were of a heavy wood.
void look_at_weight(const Piece& piece, std::vector<Message>& doubts) {
    constexpr double heavy_wood = 1000, heaviest = 2000; // kg/m3; kg: what twenty people carry
    const std::optional<double> stated = piece.top.measured.density_kg_m3 ? piece.top.measured.density_kg_m3
                                         : piece.top.elastic              ? piece.top.elastic->density_kg_m3
                                                                          : std::nullopt;
    const double density = stated.value_or(heavy_wood);
    const double mass = density * 1e-9 * piece.top.length * piece.top.width * piece.top.thickness;
    if (mass > heaviest)
        doubts.push_back(said("The top weighs {}: is a size or its density given in another unit than meant?",
                              amount(mass, Unit::kg, significant(2))));
    constexpr double lightest_wood = 100, densest_wood = 1400; // kg/m3: balsa, lignum vitae
    if (stated && (*stated < lightest_wood || *stated > densest_wood))
        doubts.push_back(said("A density of {} kg/m3 is that of no wood: was another unit meant?",
                              number(*stated, significant(3))));
}

void look_at_moisture(const Piece& piece, std::vector<Message>& doubts) {
    const double percent = piece.top.moisture_percent;
    constexpr double driest = 3;
    if (percent >= driest) return;
    doubts.push_back(said("A moisture of {} percent is drier than any room makes wood{}.",
                          number(percent, significant(3)),
                          percent < 1 ? said(": was {} percent meant? It is given in percent, not as a share",
                                             number(100 * percent, significant(3)))
                                      : Message()));
}

/// Does the name speak of somebody who sits, stands or leans?
bool speaks_of_people(const std::string& name) {
    static constexpr std::array<const char*, 12> words{"person", "people", "someone", "somebody",
                                                       "sit",    "stand",  "lean",    "adult",
                                                       "man",    "woman",  "child",   "guest"};
    std::string lower = name;
    std::transform(lower.begin(), lower.end(), lower.begin(),
                   [](unsigned char c) { return static_cast<char>(c >= 'A' && c <= 'Z' ? c + 32 : c); });
    return std::any_of(words.begin(), words.end(),
                       [&](const char* word) { return lower.find(word) != std::string::npos; });
}

void look_at_loads(const Piece& piece, std::vector<Message>& doubts) {
    if (piece.loads.empty() && piece.use.empty()) {
        doubts.push_back(
            "No load is given: only its own weight was judged. Give \"loads\", or a \"use\" such as "
            "\"dining\".");
        return;
    }
    constexpr double light_person_N = 200, heaviest_N = 50'000; // 20 kg; five tons
    for (const Load& load : piece.loads) {
        double force = 0;
        if (const auto* patch = std::get_if<PatchLoad>(&load.kind)) force = patch->force;
        if (const auto* line = std::get_if<LineLoad>(&load.kind)) force = line->force;
        if (const auto* clamp = std::get_if<ClampLoad>(&load.kind)) force = clamp->force;
        if (force > 0 && force < light_person_N && speaks_of_people(load.name))
            doubts.push_back(
                said("\"{}\" is {}, the weight of {}: was a weight in kilograms or pounds meant? A "
                     "force without a unit is in newtons, in a file in inches in pounds.",
                     load.name, amount(force, Unit::N, significant(3)),
                     amount(force / 9.80665, Unit::kg, significant(2))));
        else if (force > heaviest_N)
            doubts.push_back(said("\"{}\" is {}, the weight of {}: is a digit too many in it?", load.name,
                                  amount(force, Unit::N, significant(3)),
                                  amount(force / 9.80665, Unit::kg, significant(3))));
        if (const auto* area = std::get_if<AreaLoad>(&load.kind); area && area->pressure > 0.05)
            doubts.push_back(said("\"{}\" is {} all over: more than any floor bears. Was another unit meant?",
                                  load.name, amount(1000 * area->pressure, Unit::kPa, significant(3))));
    }
}

} // namespace

std::vector<Message> doubts_of(const Piece& piece) {
    std::vector<Message> doubts;
    look_at_sizes(piece, doubts);
    look_at_weight(piece, doubts);
    look_at_moisture(piece, doubts);
    look_at_loads(piece, doubts);
    return doubts;
}

} // namespace hollowtop
