// SPDX-License-Identifier: MIT
#include "cli/text/check_text.hpp"

#include "cli/text/check_parts.hpp"
#include "cli/text/kept_text.hpp"
#include "cli/text/page.hpp"
#include "cli/text/remedy_words.hpp"
#include "cli/text/second_answers.hpp"
#include "cli/text/uncertainty_text.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "materials/digits.hpp"
#include "solver/readout/sag_in_time.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <optional>
#include <string_view>
#include <vector>

namespace hollowtop::cli {
namespace {

void put_governing(Page& page, const Result& result, Units units) {
    const CheckResult* check = governing(result);
    if (check == nullptr) return;
    const Compared pair = compared(*check, units);
    std::string text = check->check + ", in \"" + text_of(check->situation) +
                       "\": " + utilisation_text(check->utilisation) + " of what is allowed (" + pair.found +
                       " against " + pair.allowed + ")";
    if (check->at) text += ", at " + place_text(*check->at, units) + " " + place_unit(units);
    if (result.passes && !result.to_spare)
        text += "; as sure as that number is, it may be " + utilisation_text(result.governing_band[1]);
    page.labelled("Governs", text + ".");
    if (!check->remedy.empty())
        page.labelled(result.passes ? "For more" : "To change", text_of(check->remedy));
}

/// The least changes that help, and which kinds do not.
void put_remedies(Page& page, const Result& result, Units units) {
    if (result.passes) return;
    if (!result.remedies) return;
    page.blank();
    page.heading("What would make it meet the limits: those that do were checked in full");
    for (const Remedy& change : *result.remedies) {
        const std::string then =
            change.governing_check + " then governs, at " + utilisation_text(change.utilisation);
        if (change.helps)
            page.bullet(change_words(change, units) + ": " + mass_text(change.mass_kg, units) + "; " + then);
        else if (change.utilisation > 0)
            page.bullet("not " + kind_words(change) + " alone: with " + change_words(change, units) + ", " +
                        change.governing_check + " is still at " + utilisation_text(change.utilisation));
        else
            page.bullet("not " + kind_words(change) + " alone");
    }
}

void put_sag(Page& page, const Result& result, Units units) {
    const auto* now = deepest(result, [](const auto& s) { return s.stage != Stage::years; });
    const auto* years = deepest(result, [](const auto& s) { return s.stage == Stage::years; });
    if (now != nullptr) page.labelled("Sag at once", sag_sentence(*now, units));
    if (years != nullptr) page.labelled("After years", sag_sentence(*years, units));
    if (!result.sag_in_time.empty()) {
        std::string text;
        for (const SagInTime& row : result.sag_in_time) {
            if (row.years <= 0 || row.years >= creep_life_years) continue; // told above
            text += (text.empty() ? "" : ", ") + movement_text(row.sag_mm, units) + " after " +
                    materials::digits(row.years);
        }
        page.labelled("Year by year",
                      text + " years, under the loads that stay (the way there is our interpolation)");
    }
    const SituationResult* bent = nullptr; // nearest to its limit of flatness
    const auto bent_share = [](const SituationResult& s) {
        return *s.flatness_mm / s.flatness_limit_mm.value_or(1);
    };
    for (const SituationResult& s : result.situations)
        if (s.flatness_mm && (bent == nullptr || bent_share(s) > bent_share(*bent))) bent = &s;
    if (bent != nullptr)
        page.labelled("Flatness",
                      movement_text(*bent->flatness_mm, units) + " from a straightedge" +
                          (bent->flatness_limit_mm
                               ? " of " + movement_text(*bent->flatness_limit_mm, units) + " allowed"
                               : std::string()) +
                          ", in \"" + text_of(bent->name) + "\", at " + place_text(bent->flatness_at, units) +
                          " " + place_unit(units));
    const SituationResult* dished = nullptr;
    for (const SituationResult& s : result.situations)
        if (s.dish_mm && (dished == nullptr || *s.dish_mm > *dished->dish_mm)) dished = &s;
    if (dished != nullptr)
        page.labelled("Dish", movement_text(*dished->dish_mm, units) +
                                  " that the skin sinks below its rim, in \"" + text_of(dished->name) +
                                  "\", at " + place_text(dished->dish_at, units) + " " + place_unit(units));
}

void put_bounce(Page& page, const Result& result) {
    if (result.frequency_Hz.empty()) return;
    page.labelled("Bounce", "on its supports, with the loads that stay, the top swings at " +
                                frequency_text(result.frequency_Hz.front()));
}

/// What the stiffeners are worth, in one line.
void put_stiffening(Page& page, const Result& result, Units units) {
    if (!result.stiffening) return;
    const Stiffening& s = *result.stiffening;
    page.labelled("Stiffened", "sag " + movement_text(s.without_mm, units) + " without stiffeners, " +
                                   movement_text(s.with_mm, units) + " with them, in \"" +
                                   text_of(s.situation) + "\"; glued all along they would give " +
                                   movement_text(s.bonded_mm, units));
}

void put_stiffeners(Page& page, const Result& result, Units units) {
    if (result.stiffeners.empty()) return;
    std::vector<Row> rows;
    for (const StiffenerResult& stiffener : result.stiffeners) {
        const ScrewResult* worst = nullptr; // the screw that takes most
        int n_screws = 0;
        for (const ScrewResult& screw : result.screws) {
            if (screw.stiffener != stiffener.name) continue;
            ++n_screws;
            if (worst == nullptr ||
                screw.utilisation.value_or(screw.shear_N) > worst->utilisation.value_or(worst->shear_N))
                worst = &screw;
        }
        rows.push_back({{stiffener.name, stiffener.section, mass_text(stiffener.mass_kg, units),
                         amount_text(stiffener.max_stress_MPa, "MPa", units),
                         percent_text(100 * stiffener.composite_action),
                         n_screws > 0 ? std::to_string(n_screws) : "glued",
                         worst ? amount_text(worst->shear_N, "N", units) : "",
                         worst ? amount_text(worst->withdrawal_N, "N", units) : "",
                         worst && worst->utilisation ? utilisation_text(*worst->utilisation) : "",
                         worst ? place_text(worst->at, units) : ""},
                        Tone::plain});
    }
    page.blank();
    page.heading("Stiffeners, and of each the screw that takes most");
    page.table({{.heading = "stiffener", .shrinks = true},
                {.heading = "section", .shrinks = true},
                {.heading = "weight", .to_the_right = true},
                {.heading = "stress", .to_the_right = true},
                {.heading = "carries with", .to_the_right = true},
                {.heading = "screws", .to_the_right = true},
                {.heading = "shear", .to_the_right = true},
                {.heading = "pull", .to_the_right = true},
                {.heading = "used", .to_the_right = true},
                {.heading = std::string("at x, y ") + place_unit(units), .to_the_right = true}},
               rows);
    page.paragraph("\"carries with\": 0 % lies side by side with the wood, 100 % is as good as glued.");
}

void put_checks(Page& page, const Result& result, Units units) {
    auto checks = worst_of_each(result);
    if (checks.empty()) return;
    std::stable_sort(checks.begin(), checks.end(), [](const auto* a, const auto* b) {
        if (a->advice != b->advice) return b->advice;
        return a->utilisation > b->utilisation;
    });
    std::vector<Row> rows;
    for (const CheckResult* check : checks) {
        const bool over = check->utilisation > 1 && !check->advice;
        const Compared pair = compared(*check, units);
        rows.push_back({{check->check + (check->advice ? " (advice)" : ""), text_of(check->situation),
                         pair.found, pair.allowed, utilisation_text(check->utilisation),
                         check->at ? place_text(*check->at, units) : "", over ? "over" : ""},
                        over ? Tone::bad : Tone::plain});
    }
    page.blank();
    page.heading("Checks, each in its worst situation");
    page.table({{.heading = "check", .shrinks = true},
                {.heading = "in", .shrinks = true},
                {.heading = "found", .to_the_right = true},
                {.heading = "allowed", .to_the_right = true},
                {.heading = "used", .to_the_right = true},
                {.heading = std::string("at x, y ") + place_unit(units), .to_the_right = true},
                {.heading = ""}},
               rows);
}

void put_supports(Page& page, const Result& result, Units units) {
    const auto ranges = ranges_of(result);
    if (ranges.empty()) return;
    std::vector<Row> rows;
    for (const SupportRange& range : ranges) {
        std::string note;
        if (!range.lifts_in.empty())
            note = range.lifts_in.size() == result.situations.size()
                       ? "the top lifts off it in every situation"
                       : "the top lifts off it in \"" + range.lifts_in.front() + "\"" +
                             (range.lifts_in.size() > 1 ? " and others" : "");
        rows.push_back(
            {{range.name, force_text(range.least, units), force_text(range.most, units), range.most_in, note},
             Tone::plain});
    }
    page.blank();
    page.heading("What the supports carry");
    page.table({{.heading = "support", .shrinks = true},
                {.heading = "least", .to_the_right = true},
                {.heading = "most", .to_the_right = true},
                {.heading = "most in", .shrinks = true},
                {.heading = "", .shrinks = true}},
               rows);
}

/// How far the top is from tipping, in the situation where it is nearest.
void put_tipping(Page& page, const Result& result) {
    const SituationResult* nearest = nullptr;
    for (const SituationResult& s : result.situations)
        if (s.tipping_factor && (nearest == nullptr || *s.tipping_factor < *nearest->tipping_factor))
            nearest = &s;
    if (nearest == nullptr) return;
    constexpr double far = 20;
    if (*nearest->tipping_factor > far) return;
    std::string text = "at " + fixed(*nearest->tipping_factor, 1) + " times the load of \"" +
                       text_of(nearest->name) + "\" the top would tip off its supports";
    if (nearest->tipping_factor_solid && *nearest->tipping_factor_solid > 1.05 * *nearest->tipping_factor)
        text += "; solid, at " + fixed(*nearest->tipping_factor_solid, 1) + " times";
    page.labelled("Tipping", text);
}

/// Where a load that travels is worst, for each check that it brings near to its limit.
void put_travels(Page& page, const Result& result, Units units) {
    constexpr double worth_a_row = 0.1;
    for (const Travel& travel : result.travels) {
        std::vector<const Travel::Field*> fields;
        for (const Travel::Field& field : travel.fields)
            if (field.check != "lift-off" && field.worst_utilisation >= worth_a_row) fields.push_back(&field);
        std::stable_sort(fields.begin(), fields.end(), [](const auto* a, const auto* b) {
            return a->worst_utilisation > b->worst_utilisation;
        });
        std::vector<Row> rows;
        for (const Travel::Field* field : fields)
            rows.push_back({{field->check, utilisation_text(field->worst_utilisation),
                             place_text(field->worst_at, units)},
                            Tone::plain});
        page.blank();
        page.heading("Where \"" + travel.load + "\" does most harm");
        page.table(
            {{.heading = "for", .shrinks = true},
             {.heading = "used", .to_the_right = true},
             {.heading = std::string("its middle at x, y ") + place_unit(units), .to_the_right = true}},
            rows);
        page.paragraph("Of " + std::to_string(travel.n_places) +
                       " places tried; the worst of them are situations of their own, with these numbers.");
    }
}

/// What a thumb, a sanding pad, a heel and a hand that leans do to the skins.
void put_pushes(Page& page, const Result& result, Units units) {
    if (result.pushes.empty()) return;
    const auto hundredths = [&](double mm) {
        return units == Units::mm ? fixed(mm, 2) + " mm" : amount_text(mm, "mm", units);
    };
    std::vector<Row> rows;
    for (const SkinPush& push : result.pushes)
        rows.push_back(
            {{push.push, push.recess, force_text(push.force_N, units), dimension_text(push.size_mm, units),
              hundredths(push.dish_mm), push.dish_limit_mm ? hundredths(*push.dish_limit_mm) : "",
              push.strength_used ? utilisation_text(*push.strength_used) : "", place_text(push.at, units)},
             Tone::plain});
    page.blank();
    page.heading("A push on the skin, where it gives way most");
    page.table({{.heading = "by", .shrinks = true},
                {.heading = "on", .shrinks = true},
                {.heading = "force", .to_the_right = true},
                {.heading = "square", .to_the_right = true},
                {.heading = "sinks", .to_the_right = true},
                {.heading = "advised", .to_the_right = true},
                {.heading = "strength used", .to_the_right = true},
                {.heading = std::string("at x, y ") + place_unit(units), .to_the_right = true}},
               rows);
    page.paragraph("Forces, sizes and advised limits are common practice or estimates, not a standard; none "
                   "of them fails the top.");
}

void put_list(Page& page, const char* heading, const std::vector<std::string>& sentences,
              Tone tone = Tone::plain) {
    if (sentences.empty()) return;
    page.blank();
    page.heading(heading);
    for (const std::string& sentence : sentences) page.bullet(sentence, tone);
}

/// Where the limits come from: of all checks, or of the one that governs.
std::vector<std::string> bases_of(const Result& result, bool all) {
    std::vector<std::string> bases;
    for (const CheckResult* check : worst_of_each(result))
        if (!check->basis.empty() && (all || check->check == result.governing_check))
            bases.push_back(check->check + ": " + text_of(check->basis));
    if (!all) bases.push_back("the other checks: --sources shows it");
    return bases;
}

} // namespace

std::string check_text(const std::string& file, const Piece& piece, const Result& computed,
                       const TextStyle& style, const Uncertainty* band) {
    const Result result = in_words(computed, style.units);
    Page page;
    page.heading(piece.title.empty() ? file : piece.title + "  (" + file + ")");
    put_verdict(page, result);
    page.blank();
    put_governing(page, result, style.units);
    if (!result.pays.empty()) page.labelled("Hollow?", text_of(result.pays));
    put_weight(page, result.mass, style.units);
    put_sag(page, result, style.units);
    put_second_answers(page, result, style.units);
    put_stiffening(page, result, style.units);
    put_bounce(page, result);
    put_tipping(page, result);
    put_remedies(page, result, style.units);
    put_checks(page, result, style.units);
    put_pushes(page, result, style.units);
    put_travels(page, result, style.units);
    put_stiffeners(page, result, style.units);
    put_in_recesses(page, result, style.units);
    put_supports(page, result, style.units);
    put_list(page, "Warnings", texts_of(result.warnings), Tone::bad);
    page.blank();
    page.heading("How sure");
    page.paragraph(accuracy_sentence(result));
    if (band) put_uncertainty(page, *band, style.units);
    put_list(page, "Where the limits come from", bases_of(result, style.all_sources));
    put_list(page, "Taken for granted", texts_of(result.assumptions));
    put_list(page, "Cautions", texts_of(result.cautions));
    return page.text(style.coloured);
}

std::string summary_text(const std::vector<SummaryRow>& rows, const TextStyle& style) {
    Page page;
    std::vector<Row> table;
    std::size_t n_pass = 0;
    std::size_t n_fail = 0;
    std::size_t n_open = 0;
    for (const SummaryRow& row : rows) {
        if (row.result == nullptr) {
            ++n_open;
            table.push_back({{row.file, "not computed", "", row.problem}, Tone::bad});
            continue;
        }
        const Result& result = *row.result;
        result.passes ? ++n_pass : ++n_fail;
        table.push_back(
            {{row.file,
              !result.passes    ? "does not meet them"
              : result.to_spare ? "meets the limits set"
                                : "meets them, little to spare",
              utilisation_text(result.governing_utilisation),
              result.governing_check + ", in \"" + in_words(result.governing_situation, style.units) + "\""},
             result.passes ? Tone::plain : Tone::bad});
    }
    page.table({{.heading = "piece", .shrinks = true},
                {.heading = "verdict"},
                {.heading = "used", .to_the_right = true},
                {.heading = "governs", .shrinks = true}},
               table);
    page.blank();
    std::string sentence =
        std::to_string(n_pass) + " of " + std::to_string(rows.size()) + " meet the limits set";
    if (n_open > 0) sentence += ", " + std::to_string(n_open) + " could not be computed";
    page.paragraph(sentence + ".", 0, n_fail + n_open > 0 ? Tone::bad : Tone::good);
    return page.text(style.coloured);
}

} // namespace hollowtop::cli
