// SPDX-License-Identifier: MIT
// What was found and what was asked: the first page of the report.
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "solver/capacity/limits.hpp"
#include "solver/piece/use_loads.hpp"

#include <algorithm>

namespace hollowtop::cli {
namespace {

bool strength_was_judged(const Result& result) {
    return std::any_of(result.checks.begin(), result.checks.end(),
                       [](const auto& c) { return c.unit == "MPa"; });
}

} // namespace

std::optional<std::size_t> governing_index(const Result& result) {
    for (std::size_t i = 0; i < result.checks.size(); ++i)
        if (result.checks[i].check == result.governing_check &&
            result.checks[i].situation == result.governing_situation)
            return i;
    return std::nullopt;
}

std::optional<Point> governing_place(const Result& result) {
    const auto index = governing_index(result);
    return index ? result.checks[*index].at : std::nullopt;
}

namespace {

Markup governing_words(const Sheet& sheet) {
    const auto index = governing_index(sheet.result());
    if (!index) return words("No check governs.");
    const CheckResult& check = sheet.result().checks[*index];
    const auto key = [&](const char* name) { return at_index("/checks", *index, name); };
    Markup text =
        words(check.utilisation > 1 ? "What is furthest over its limit: "
                                    : "What comes nearest to its limit: ") +
        element("strong", words(check.check)) + words(" in \u201c") + own(text_of(check.situation)) +
        words("\u201d, ") + found_of(sheet, *index) + words(" against ") + allowed_of(sheet, *index) +
        words(is_at_least(check) ? ", " : " allowed, ") + used(check.utilisation, key("utilisation")) +
        words(" of the limit") + words(", margin ") + margin_number(sheet, *index);
    if (check.at) text += words(", at ") + placed_in_words(sheet, *check.at, key("at_mm"));
    text += words(".");
    if (!check.remedy.empty())
        text += words((sheet.result().passes ? " For more reserve: " : " What would change it: ") +
                      text_of(check.remedy) + ".");
    return text;
}

/// Advice that is not kept; empty where all is.
Markup advice_words(const Sheet& sheet) {
    std::vector<std::string> over;
    for (const CheckResult& check : sheet.result().checks)
        if (check.advice && check.utilisation > 1 &&
            std::find(over.begin(), over.end(), check.check) == over.end())
            over.push_back(check.check);
    if (over.empty()) return {};
    std::string list;
    for (const std::string& check : over) list += (list.empty() ? "" : ", ") + check;
    return para(words("Advice that is not kept (it fails no top): " + list + " (") +
                section_link(sheet, "checks") + words(")."));
}

Markup load_words(const Sheet& sheet, const Load& load) {
    const Units units = sheet.units();
    Markup text = own(load.name) + words(": ");
    if (const auto* area = std::get_if<AreaLoad>(&load.kind)) {
        const double kPa = area->pressure * 1000;
        text += words((units == Units::mm
                           ? significant(kPa, 4) + " kPa"
                           : significant(Pressure::from_MPa(area->pressure).psi() * 144, 4) + " psf"));
        if (area->over)
            text += words(" over x " + place_text({area->over->x0, area->over->x1}, units) + " and y " +
                          place_text({area->over->y0, area->over->y1}, units) + " " + place_unit(units));
        else
            text += words(" all over");
    } else if (const auto* patch = std::get_if<PatchLoad>(&load.kind)) {
        text += words(force_text(patch->force, units));
        text += patch->travels ? words(" wherever it is worst")
                               : words(" at " + place_text(patch->at, units) + " " + place_unit(units));
        if (patch->size_x > 0)
            text += words(", on " + dimension_text(patch->size_x, units) + " by " +
                          dimension_text(patch->size_y, units));
    } else if (const auto* line = std::get_if<LineLoad>(&load.kind)) {
        text +=
            words(force_text(line->force, units) + " along the line from " + place_text(line->from, units) +
                  " to " + place_text(line->to, units) + " " + place_unit(units));
    } else if (const auto* clamp = std::get_if<ClampLoad>(&load.kind)) {
        text +=
            words(force_text(clamp->force, units) + " on an arm over " + place_text(clamp->hangs_at, units) +
                  ", clamped at " + place_text(clamp->at, units) + " " + place_unit(units) + ", between " +
                  dimension_text(clamp->above_x, units) + " by " + dimension_text(clamp->above_y, units) +
                  " above and " + dimension_text(clamp->below_x, units) + " by " +
                  dimension_text(clamp->below_y, units) + " below");
    }
    return text + words(std::string(" (") + to_word(load.duration) + ")");
}

std::string limit_words(const MovementLimit& limit, Units units) {
    std::string text = limit.is_share_of_span ? "span / " + significant(limit.divisor, 6)
                                              : movement_text(limit.length, units);
    if (limit.is_stated) return text + ", as stated";
    if (limit.source.empty()) return text + ", the default";
    return text + ", from the stated use: " + in_words(limit.source, units);
}

} // namespace

std::string verdict_sentence(const Result& result) {
    if (result.passes)
        return std::string(strength_was_judged(result) ? "This top meets the limits set"
                                                       : "The movements of this top meet the limits set") +
               (result.to_spare ? "" : ", with little to spare") +
               (strength_was_judged(result) ? "." : "; its strength is not known and was not judged.");
    if (result.governing_utilisation > 1) return "This top does not meet the limits set.";
    return "This top does not meet the limits set: see the warnings.";
}

Markup verdict_section(const Sheet& sheet) {
    const Result& result = sheet.result();
    Markup inner = para(words(verdict_sentence(result)), "sentence") + para(governing_words(sheet));
    if (result.governing_band[1] > 0)
        inner += para(words("As sure as that number is, it lies between ") +
                      used(result.governing_band[0], "/governing/band/0") + words(" and ") +
                      used(result.governing_band[1], "/governing/band/1") +
                      words(" of the limit: the computing error, and of movements a fifth more or less "
                            "stiffness of the wood (a twentieth where it was measured)."));
    if (!result.pays.empty()) inner += para(own(text_of(result.pays)));
    inner += remedies_part(sheet);
    if (const Markup band = band_words(sheet); !band.empty())
        inner += para(band + words(" (") + section_link(sheet, "sure") + words(")."));
    std::size_t n_over = 0, n_judged = 0;
    for (const CheckResult& check : result.checks) {
        if (check.advice) continue;
        ++n_judged;
        n_over += check.utilisation > 1 ? 1 : 0;
    }
    inner += para(
        words(std::to_string(n_judged) + " comparisons were made; " +
              (n_over == 0 ? "none is over its limit."
                           : std::to_string(n_over) + (n_over == 1 ? " is" : " are") + " over the limit.")) +
        words(" The limits are those of ") + section_link(sheet, "asked") +
        words("; how sure each number is: ") + section_link(sheet, "sure") +
        words(". This is a calculation: no proof test of the piece is part of it (") +
        section_link(sheet, "test") + words(")."));
    inner += advice_words(sheet);
    if (!result.warnings.empty()) {
        std::vector<Markup> items;
        for (const Message& warning : result.warnings) items.push_back(own(text_of(warning)));
        inner += element("h3", words("Warnings")) + bullets(items);
    }
    return element("section", heading(sheet, "verdict") + inner,
                   {{"class", result.passes ? "verdict meets" : "verdict fails"}});
}

Markup asked_section(const Sheet& sheet) {
    const Asked& asked = sheet.in.asked;
    const auto said = [](const std::string& text) { return text.empty() ? Markup{} : own(text); };
    const auto or_blank = [&](const std::string& text) {
        return text.empty() ? element("span", words("not stated in the piece file"), {{"class", "soft"}})
                            : own(text);
    };
    std::vector<std::pair<std::string, Markup>> rows{{"Client", or_blank(asked.client)},
                                                     {"Project", said(asked.project)},
                                                     {"Number", said(asked.number)},
                                                     {"Place", said(asked.place)},
                                                     {"Maker", or_blank(asked.maker)},
                                                     {"Use, in the client's words", or_blank(asked.wanted)},
                                                     {"Agreed to be outside", said(asked.outside)}};
    const Piece& piece = sheet.in.piece;
    if (!piece.use.empty())
        rows.push_back({"Stated use", words(piece.use) + words(" (its loads and limits: hollowtop uses)")});
    const Limits limits = with_use(piece).limits; // a stated use brings those that the file leaves open
    rows.push_back(
        {"After the years", words("with the full creep, that of some fifty years (k_def of EN 1995-1-1)")});
    rows.push_back({"Limit of sag at once", words(limit_words(limits.sag, sheet.units()))});
    rows.push_back({"Limit of sag after the years", words(limit_words(limits.sag_years, sheet.units()))});
    for (const Stage stage : {Stage::at_once, Stage::years}) {
        const auto flat = flatness_limit(limits, stage);
        rows.push_back({stage == Stage::years ? "Limit of flatness after the years" : "Limit of flatness",
                        words(flat ? movement_text(flat->limit_mm, sheet.units()) +
                                         " under a straightedge; " + in_words(flat->basis, sheet.units())
                                   : "none asked for by the stated use")});
    }
    if (limits.dish.is_stated)
        rows.push_back({"Limit of dish", words(limit_words(limits.dish, sheet.units()))});
    if (limits.frequency_Hz)
        rows.push_back({"Lowest bounce wished for", words(frequency_text(*limits.frequency_Hz))});
    Markup inner = facts(rows);
    std::vector<Markup> loads;
    if (piece.self_weight)
        loads.push_back(words("the top's own weight and that of what is screwed to it (permanent)"));
    for (const Load& load : piece.loads) loads.push_back(load_words(sheet, load));
    inner += element("h3", words("Loads")) + bullets(loads);
    if (!piece.use.empty()) {
        std::vector<Markup> brought;
        for (const Message& sentence : told_of_use(piece))
            brought.push_back(words(in_words(sentence, sheet.units())));
        inner += element("h3", words("What the stated use brings")) + bullets(brought);
    }
    return element("section", heading(sheet, "asked") + inner);
}

} // namespace hollowtop::cli
