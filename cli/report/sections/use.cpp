// SPDX-License-Identifier: MIT
// For whoever lives with the piece: use and care, and the table of risks that a maker is asked for.
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
std::string air_text(const Air& air, Units units) {
    const std::string degrees = units == Units::mm ? fixed(air.temperature_C, 0) + " \u00b0C"
                                                   : fixed(air.temperature_C * 9 / 5 + 32, 0) + " \u00b0F";
    return fixed(air.humidity_percent, 0) + " % at " + degrees;
}

namespace {

/// The situation in which the least times its load tips the top; empty where none does.
std::optional<std::size_t> first_to_tip(const Result& result) {
    std::optional<std::size_t> nearest;
    for (std::size_t s = 0; s < result.situations.size(); ++s) {
        const auto& factor = result.situations[s].tipping_factor;
        if (factor && (!nearest || *factor < *result.situations[*nearest].tipping_factor)) nearest = s;
    }
    return nearest;
}

Markup tipping_words(const Sheet& sheet) {
    const Result& result = sheet.result();
    const auto nearest = first_to_tip(result);
    if (!nearest)
        return words("No load that is listed comes near tipping the top off its supports. How base and top "
                     "tip together is not judged here.");
    const double factor = *result.situations[*nearest].tipping_factor;
    constexpr double far = 20;
    if (factor > far)
        return words("It would take over twenty times the loads listed to tip the top off its supports. How "
                     "base and top tip together is not judged here.");
    return words("At ") +
           number(factor, at_index("/situations", *nearest, "tipping_factor"),
                  fixed(std::floor(10 * factor) / 10, 1)) +
           words(" times the load of \u201c") + own(text_of(result.situations[*nearest].name)) +
           words("\u201d the top tips off its supports. How base and top tip together is not judged here.");
}

Markup loose_words(const Sheet& sheet) {
    if (!sheet.in.trials) return {};
    const auto& changes = sheet.in.trials->changes;
    for (std::size_t i = 0; i < changes.size(); ++i)
        if (changes[i].kind == Changed::stiffeners_loose && changes[i].row)
            return words("Were every stiffener loose, the hardest use would be ") +
                   used(changes[i].row->utilisation,
                        at_index("/trials/changes", i, "result") + "/governing/utilisation") +
                   words(changes[i].row->passes ? " of a limit: the top does not live by them."
                         : sheet.in.trials->base.passes
                             ? " of a limit: the top needs them."
                             : " of a limit; as drawn the top does not meet its limits.");
    return {};
}

} // namespace

Markup care_section(const Sheet& sheet) {
    const Result& result = sheet.result();
    const Piece& piece = sheet.in.piece;
    std::vector<Markup> does{
        words("Load it with no more than what is listed in ") + section_link(sheet, "asked") +
            words(". Those loads are counted one at a time on top of what stands there always, not all at "
                  "once."),
        words(piece.stiffeners.empty() ? "Lift it by the rim, never by the skin: "
                                       : "Lift it by the rim, never by a stiffener or the skin: ") +
            massed(sheet, result.mass.total_kg, "/mass/total_kg") +
            words(", " + (sheet.bench.people > 2 ? std::to_string(sheet.bench.people) : std::string("two")) +
                  " people at least (guide figures: ") +
            section_link(sheet, "bench") +
            words("). Carry it on edge, and do not let it stand on edge alone."),
        words("Set it on the supports as drawn, all of them touching; a leg that stands hollow changes every "
              "number here.")};
    if (sheet.in.seasons) {
        const MoistureRange& air = sheet.in.seasons->moisture;
        does.push_back(
            words("Keep the air between " + air_text(air.dry_air, sheet.units()) + " and " +
                  air_text(air.wet_air, sheet.units()) +
                  (air.dry_is_usual || air.wet_is_usual ? " (a heated room; none is stated, so it was taken)"
                                                        : "") +
                  ". Beyond it the wood moves more than was left room for."));
    }
    if (!piece.stiffeners.empty())
        does.push_back(words("Look at the screws of the stiffeners after the first heating season and every "
                             "second year after: hand-tight in slots "
                             "means tightened and a quarter turn back. Never replace one by a longer one: "
                             "the show face is close."));
    does.push_back(words(
        "Wipe up water at once, underneath too; no hot pot, no heater below, no sun on one half for weeks."));
    std::vector<Markup> donts{
        words(
            "Do not stand, kneel, jump or let children play on it; sit on it only if such a load is listed."),
        words("Do not drag it loaded, and do not lift it by one end while the other carries a load.")};
    if (!piece.recesses.empty())
        donts.push_back(
            words("Do not drill, screw or nail into it from below, nor plane or sand the face by more than a "
                  "wiping cut: the skin is thin, and its place is not seen from above."));
    donts.push_back(
        words("Do not close off the underside with anything that lets one face dry and the other not."));
    donts.push_back(words("Stop using it and ask the maker at a crack, a creak that is new, a hollow that is "
                          "seen or felt, or a leg that no longer touches."));
    return element("section", heading(sheet, "care") + element("h3", words("Do")) + bullets(does) +
                                  element("h3", words("Do not")) + bullets(donts));
}

Markup risks_section(const Sheet& sheet) {
    const Piece& piece = sheet.in.piece;
    const bool hollow = !piece.recesses.empty(), stiffened = !piece.stiffeners.empty();
    std::vector<TableRow> rows;
    const auto row = [&](const char* hazard, const char* misuse, Markup measure, const char* left) {
        rows.push_back({{words(hazard), words(misuse), std::move(measure), words(left)}});
    };
    row("The top tips", "someone leans or sits on an end or an edge, a child pulls itself up",
        tipping_words(sheet), "a base that tips, is narrow or stands uneven");
    row("The top breaks or stays bent", "someone stands or kneels on it, more is piled on than was agreed",
        words("Checked for the loads listed and no others; what was used hardest stands in ") +
            section_link(sheet, "verdict") + words("."),
        "standing and jumping are not counted unless listed: tell the client, mark the underside");
    if (hollow)
        row("The skin breaks through or is bored through",
            "a blow, a vice or clamp on the face, a longer screw driven from below later",
            words(
                "Skin thickness gauged at the places of the bench page; dish and stress of the skin judged."),
            "a blow is not judged: mark \u201chollow, no screws\u201d inside the recess");
    row("A hidden fault in the wood", "none is needed",
        words("The limits take the weakest twentieth of clear wood and a grade; the record of the proof test "
              "is in ") +
            section_link(sheet, "test") + words("."),
        "shake, rot, starved glue: only a test shows them");
    row("The wood splits as it moves", "a dry heated winter, a damp summer house, a leak",
        words(sheet.in.seasons ? "Movement, slots and play worked out for the air listed."
                               : "How this material moves is not known: not judged."),
        "air outside the range; slots painted shut");
    if (stiffened) {
        Markup measure =
            words("Slots, washers, and a look after the first heating season. ") + loose_words(sheet);
        row("Screws work loose", "years of use, dragging the table", std::move(measure), "nobody looks");
        row("Cuts on metal edges and screw points", "a hand under the top, knees, a cloth in cleaning",
            words(
                "Ends and edges of metal broken and filed; screws shorter than the wood by the bench page."),
            "wear, bent parts");
    }
    row("It falls while it is carried", "two weak people, stairs, the top stood on edge",
        words("Weight stated: ") + massed(sheet, sheet.result().mass.total_kg, "/mass/total_kg") +
            words("; how many lift it is in ") + section_link(sheet, "bench") + words("."),
        "a hollowed top is still heavy");
    row("Fingers caught", "setting it down on its base, a play of a slot that closes",
        words("Lower it onto blocks first."), "small, but real");
    row("Fire while it is made", "oily rags in a heap",
        words("Rags spread out to dry, or in a closed metal bin with water (common practice)."),
        "the client oils it again: say so");
    row("Dust while it is made", "routing hardwood without extraction",
        words("Extraction, mask, eyes and ears protected."), "wood dust harms the lungs");
    for (int i = 0; i < 2; ++i) {
        const Markup blank = element("span", words("\u00a0"), {{"class", "write"}});
        rows.push_back({{words("another, " + std::to_string(i + 1)), blank, blank, blank}});
    }
    Markup inner = para(words("A start for the maker's own risk analysis, to be gone through and added to; "
                              "it knows the piece file and nothing else."));
    inner += table("Hazards of this piece",
                   {{"hazard"}, {"foreseeable misuse"}, {"what was done about it"}, {"what is left"}}, rows);
    inner += para(words("A hint, not advice: in the European Union, Regulation (EU) 2023/988, which applies "
                        "since 13 December 2024, asks the maker of a "
                        "consumer product for an internal risk analysis and technical documentation, in "
                        "which foreseeable misuse counts (article "
                        "9; read in notes of laboratories, not in the regulation); elsewhere the maker "
                        "answers for what is handed over, even as a "
                        "gift. What holds where you are, ask there."),
                  "soft");
    return element("section", heading(sheet, "risks") + inner);
}

} // namespace hollowtop::cli
