// SPDX-License-Identifier: MIT
// For the client, on one page: the verdict, a picture, what it was checked for, weight, care, limits of use,
// signatures.
#include "cli/report/drawing/aslant_picture.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "solver/piece/use_loads.hpp"

#include <cmath>

namespace hollowtop::cli {
namespace {

constexpr double gravity = 9.80665; // m/s2, standard

std::string weight_of(double newtons, Units units) {
    return units == Units::mm ? fixed(std::floor(newtons / gravity + 1e-6), 0) + " kg"
                              : fixed(std::floor(Force::from_N(newtons).lbf() + 1e-6), 0) + " lb";
}

std::string how_long(Duration duration) {
    switch (duration) {
    case Duration::permanent:
        return "for good";
    case Duration::long_term:
        return "for years";
    case Duration::medium:
        return "for weeks or months";
    default:
        return "now and then";
    }
}

/// A load as one who uses the table knows it; weights are rounded down.
Markup plain_load(const Load& load, Units units) {
    Markup text = own(load.name) + words(": ");
    if (const auto* area = std::get_if<AreaLoad>(&load.kind)) {
        const Pressure pressure = Pressure::from_MPa(area->pressure);
        const std::string each =
            units == Units::mm
                ? significant(std::floor(10 * area->pressure * 1e6 / gravity + 1e-6) / 10, 3) +
                      " kg a square metre"
                : significant(std::floor(10 * pressure.psf() + 1e-6) / 10, 3) + " lb a square foot";
        return text + words(each + (area->over ? " over a part of it" : " all over") + ", " +
                            how_long(load.duration));
    }
    if (const auto* patch = std::get_if<PatchLoad>(&load.kind)) {
        std::string on;
        if (patch->size_x > 0)
            on = " spread over " + dimension_text(patch->size_x, units) + " by " +
                 dimension_text(patch->size_y, units);
        return text +
               words(weight_of(patch->force, units) + on +
                     (patch->travels ? ", wherever it is worst, " : ", at its place in the drawing, ") +
                     how_long(load.duration));
    }
    if (const auto* line = std::get_if<LineLoad>(&load.kind))
        return text + words(weight_of(line->force, units) + " along a line, " + how_long(load.duration));
    const auto& clamp = std::get<ClampLoad>(load.kind);
    return text + words(weight_of(clamp.force, units) + " on an arm clamped to the edge, " +
                        how_long(load.duration));
}

Markup loads_part(const Sheet& sheet) {
    constexpr std::size_t most = 7;
    const Piece whole = with_use(sheet.in.piece);
    std::vector<Markup> items;
    std::size_t left_out = 0;
    for (const Load& load : whole.loads) {
        if (load.judged_for != LoadFor::everyday) continue;
        if (items.size() < most)
            items.push_back(plain_load(load, sheet.units()));
        else
            ++left_out;
    }
    if (left_out > 0)
        items.push_back(words(std::to_string(left_out) + " more, listed in the engineer\u2019s part"));
    return element("h3", words(sheet.result().passes ? "What it was checked to carry"
                                                     : "What it was checked for and does not carry within "
                                                       "the limits set")) +
           (items.empty() ? para(words("No load but its own weight is listed.")) : bullets(items)) +
           para(words("One of these at a time, on top of what stays. Nothing else is counted: nobody stands, "
                      "kneels, jumps or sits on it unless listed."));
}

Markup care_part(const Sheet& sheet) {
    const Piece& piece = sheet.in.piece;
    std::vector<Markup> care{words("Two people at least lift it, by the rim; it is carried on edge and never "
                                   "left standing on edge."),
                             words("All supports touch, the floor is level and firm."),
                             words("Wipe up water at once; no hot pots, no heater below it.")};
    if (sheet.in.seasons) {
        const MoistureRange& air = sheet.in.seasons->moisture;
        const bool as_warm = air.dry_air.temperature_C == air.wet_air.temperature_C;
        const std::string driest =
            as_warm ? fixed(air.dry_air.humidity_percent, 0) + " %" : air_text(air.dry_air, sheet.units());
        care.push_back(words("Keep the air of the room between " + driest + " and " +
                             air_text(air.wet_air, sheet.units()) + "."));
    }
    if (!piece.stiffeners.empty())
        care.push_back(
            words("Have the screws below looked at after the first winter, then every second year; "
                  "never a longer screw."));
    if (!piece.recesses.empty())
        care.push_back(words("Never screw, drill or nail into it from below: the wood is thin there."));
    care.push_back(words("At a crack, a new creak or a leg that hangs free: stop using it, ask the maker."));
    return bullets(care);
}

Markup limits_part() {
    return bullets(
        {words("For this piece, this wood and these dimensions alone, indoors."),
         words("Furniture only: no ladder, seat, stage or bed, no part of a building."),
         words("A calculation, not a test: it shows no conformity with any standard, and faults that "
               "nobody can see (shake, rot, starved glue) are not in it."),
         words("The base and its joints are not in it. Falls, blows, fire, glass and stone are "
               "outside."),
         words("Sag after years is an estimate. Check again after a change, a leak or a move to "
               "another climate; keep this page with the piece.")});
}

Markup signing_part(const Sheet& sheet) {
    const Asked& asked = sheet.in.asked;
    const auto blank = element("span", words("\u00a0"), {{"class", "write"}});
    const auto named = [&](const std::string& name) {
        return name.empty() ? blank : own(short_text(name, 60));
    };
    return table("Agreed: this use and these limits", {{"who"}, {"name"}, {"date"}, {"signature"}},
                 {{{words("maker"), named(asked.maker), blank, blank}},
                  {{words("client"), named(asked.client), blank, blank}}},
                 TableKind::short_rows);
}

} // namespace

Markup client_part(const Sheet& sheet) {
    const Result& result = sheet.result();
    Markup verdict = para(words(verdict_sentence(result)), "sentence");
    if (!result.passes)
        verdict += para(words("It should not be made or used as drawn; what would change that is in ") +
                            section_link(sheet, "verdict") + words("."),
                        "lead");
    if (const std::size_t n = result.warnings.size(); n > 0)
        verdict += para(words(std::to_string(n) + (n == 1 ? " warning stands" : " warnings stand") + " in ") +
                            section_link(sheet, "verdict") + words(": read before use."),
                        "lead");
    Markup inner = element("div", verdict, {{"class", result.passes ? "verdict meets" : "verdict fails"}});
    inner +=
        figure(words("The top lying on its face, its underside upwards; its real thickness and depth. "
                     "Dashed: where it rests."),
               [&](const std::string& end, double width) {
                   return aslant_picture("underside" + end, sheet.in.piece, sheet.plan, width, sheet.units());
               });
    const Top& top = sheet.in.piece.top;
    Markup weight = words("It is " + whole_dimension_text(top.length, sheet.units()) + " long, " +
                          whole_dimension_text(top.width, sheet.units()) + " wide and " +
                          dimension_text(top.thickness, sheet.units()) + " thick. It weighs ") +
                    massed(sheet, result.mass.total_kg, "/mass/total_kg");
    if (result.mass.saved_kg > 0)
        weight += words("; solid it would weigh ") + massed(sheet, result.mass.solid_kg, "/mass/solid_kg");
    weight +=
        words(". " + (sheet.bench.people > 2 ? std::to_string(sheet.bench.people) : std::string("Two")) +
              " people lift it.");
    inner += loads_part(sheet) + para(weight);
    inner += element("div",
                     element("div", element("h3", words("Care")) + care_part(sheet)) +
                         element("div", element("h3", words("Limits of use")) + limits_part()),
                     {{"class", "two"}});
    return inner + signing_part(sheet);
}

} // namespace hollowtop::cli
