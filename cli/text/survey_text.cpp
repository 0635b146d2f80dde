// SPDX-License-Identifier: MIT
#include "cli/text/survey_text.hpp"

#include "cli/text/page.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "solver/piece/skin.hpp"

#include <algorithm>
#include <array>

namespace hollowtop::cli {
namespace {

/// A thickness as gauges show it.
std::string thick(double mm, Units units) {
    return units == Units::mm ? fixed(mm, 1) + " mm" : fixed(Length::from_mm(mm).inches(), 3) + " in";
}
std::string thick_alone(double mm, Units units) {
    return units == Units::mm ? fixed(mm, 1) : fixed(Length::from_mm(mm).inches(), 3);
}
/// To the millimetre, or a tenth of an inch: of a place that has no edge.
std::string broad(double mm, Units units) {
    return units == Units::mm ? fixed(mm, 0) : fixed(Length::from_mm(mm).inches(), 1);
}
std::string fine(double mm, Units units) {
    return units == Units::mm ? fixed(mm, 2) + " mm" : fixed(Length::from_mm(mm).inches(), 3) + " in";
}

std::string verdict_of(const SurveyCheck& check) {
    return !check.result ? "not computed" : check.passes() ? "meets them" : "does not";
}

Row check_row(const std::string& name, const SurveyCheck& check, Units units) {
    Row row{.cells = {name, verdict_of(check)}, .tone = check.passes() ? Tone::plain : Tone::bad};
    if (!check.result) {
        row.cells.insert(row.cells.end(), {"", in_words(check.problem, units), "", "", "", "", ""});
        return row;
    }
    const StudyRow& r = check.row;
    row.cells.insert(row.cells.end(),
                     {utilisation_text(r.utilisation), r.governing_check, fine(r.sag_mm, units),
                      r.sag_limit_mm > 0 ? fine(r.sag_limit_mm, units) : std::string(),
                      r.sag_years_mm ? fine(*r.sag_years_mm, units) : std::string(),
                      r.dish_mm ? fine(*r.dish_mm, units) : std::string(), mass_text(r.mass_kg, units)});
    return row;
}

std::string used_text(const SurveyCheck& check) {
    return check.result ? utilisation_text(check.row.utilisation) : std::string("not possible");
}

void put_verdict(Page& page, const SurveyAnswer& answer) {
    if (answer.passes())
        page.paragraph("As routed this top meets the limits set, at the low bound of the readings too.", 0,
                       Tone::good);
    else if (answer.routed.passes())
        page.paragraph("As routed this top most likely meets the limits set, but the readings are not sure "
                       "of it: at their low "
                       "bound it does not. Gauge more, or mend it.",
                       0, Tone::bad);
    else if (!answer.routed.result)
        page.paragraph("As routed this top could not be computed.", 0, Tone::bad);
    else
        page.paragraph(answer.drawn.passes()
                           ? "As routed this top does not meet the limits set; as drawn it does."
                           : "As routed this top does not meet the limits set, nor does it as drawn.",
                       0, Tone::bad);
}

void put_recesses(Page& page, const Piece& piece, const SurveyAnswer& answer, Units units) {
    for (const RecessSurvey& one : answer.survey.recesses) {
        const std::string& name = piece.recesses[static_cast<std::size_t>(one.recess)].name;
        if (one.n_readings == 0) {
            page.labelled(name, "no reading: its skin is taken as drawn, " + thick(one.drawn, units),
                          Tone::bad);
            continue;
        }
        page.labelled(name, "skin drawn " + thick(one.drawn, units) + ", found " +
                                thick(one.mean_skin, units) + " on the mean; thinnest " +
                                thick(one.thinnest.mean, units) + " +/- " +
                                thick(1.645 * one.thinnest.sd, units) + " (90 %) at " +
                                place_text(one.thinnest_at, units) + "; elsewhere known to +/- " +
                                thick(1.645 * one.mean_sd, units) + " on the mean");
    }
    if (const std::string rim = rim_words(answer, units); !rim.empty())
        page.labelled("rim", rim, wanders(*answer.survey.rim) ? Tone::bad : Tone::plain);
}

void put_named(Page& page, const SurveyAnswer& answer, Units units) {
    constexpr std::size_t most = 4;
    std::size_t told = 0;
    for (const NamedReading& one : answer.survey.named) {
        if (told++ == most) {
            page.bullet("and " + std::to_string(answer.survey.named.size() - most) +
                            " more (--json says all)",
                        Tone::bad);
            break;
        }
        std::string line = thick(one.reading.thickness, units) + " at " + place_text(one.reading.at, units);
        if (one.reading.line > 0) line = "line " + std::to_string(one.reading.line) + ", " + line;
        page.bullet(line + (one.used ? ": " : ", not used: ") + in_words(one.why, units), Tone::bad);
    }
}

void put_places(Page& page, const SurveyAnswer& answer, Units units) {
    if (answer.places.empty()) return;
    page.blank();
    page.heading("Thin places");
    std::vector<Row> rows;
    constexpr std::size_t most = 4;
    for (std::size_t k = 0; k < std::min(most, answer.places.size()); ++k) {
        const ThinPlace& place = answer.places[k];
        rows.push_back({.cells = {place_text(place.at, units), thick(place.skin.mean, units),
                                  thick(1.645 * place.skin.sd, units), thick(place.under_drawn, units),
                                  broad(place.extent.x1 - place.extent.x0, units) + " x " +
                                      broad(place.extent.y1 - place.extent.y0, units)}});
    }
    page.table({{.heading = std::string("at, ") + place_unit(units)},
                {.heading = "skin", .to_the_right = true},
                {.heading = "+/- (90 %)", .to_the_right = true},
                {.heading = "under the drawing", .to_the_right = true},
                {.heading = std::string("wide, ") + place_unit(units), .to_the_right = true}},
               rows);
}

void put_mends(Page& page, const SurveyAnswer& answer, Units units) {
    page.blank();
    page.heading("What mends it, each by checks of its own");
    std::vector<Row> rows;
    for (const Mend& mend : answer.mends)
        rows.push_back(
            {.cells = {mend_words(mend, units),
                       mend.passes()          ? "meets them"
                       : mend.routed.passes() ? "not sure"
                                              : "does not",
                       used_text(mend.routed), used_text(mend.low),
                       mend.routed.result ? fine(mend.routed.row.sag_mm, units) : std::string(),
                       mend.routed.result ? mass_text(mend.routed.row.mass_kg, units) : std::string()},
             .tone = mend.passes() ? Tone::good : Tone::plain});
    page.table({{.heading = "", .shrinks = true},
                {.heading = "the limits"},
                {.heading = "used", .to_the_right = true},
                {.heading = "low bound", .to_the_right = true},
                {.heading = "sag", .to_the_right = true},
                {.heading = "weight", .to_the_right = true}},
               rows);
    if (answer.mends.size() > 1)
        page.paragraph(
            "What a thin place costs is what its patch wins. A patch counts as glued over its whole face, "
            "grain along the top's.",
            0, Tone::faint);
}

} // namespace

std::string mend_words(const Mend& mend, Units units) {
    const std::string at = mend.place ? " at " + place_text(mend.place->at, units) : std::string();
    switch (mend.kind) {
    case Mend::Kind::leave:
        return "leave it as it is";
    case Mend::Kind::patch:
        return "patch " + broad(mend.size_x, units) + " x " + broad(mend.size_y, units) + at + " back to " +
               thick(mend.skin, units);
    case Mend::Kind::patches:
        return mend.size_x == 2 ? "patches at both places"
                                : "patches at all " + fixed(mend.size_x, 0) + " places";
    case Mend::Kind::level:
        return "level all the floor down to " + thick(mend.skin, units);
    case Mend::Kind::bar_along:
    case Mend::Kind::bar_across:
        return (mend.bar->screws.holes == Holes::bonded ? "glued " : "") + mend.bar->section +
               (mend.bar->from.y == mend.bar->to.y ? " along the length, y " : " across, x ") +
               thick_alone(mend.bar->from.y == mend.bar->to.y ? mend.bar->from.y : mend.bar->from.x, units);
    }
    return "";
}

std::string rim_words(const SurveyAnswer& answer, Units units) {
    if (!answer.survey.rim) return {};
    const RimSurvey& rim = *answer.survey.rim;
    const std::string mean =
        "board drawn " + thick(rim.drawn, units) + ", found " + thick(rim.mean, units) + " on the mean";
    if (!wanders(rim)) return mean + "; computed with as it lies";
    return mean + "; it wanders, from " + thick(rim.thinnest.mean, units) + " at " +
           place_text(rim.thinnest_at, units) + " to " + thick(rim.thickest.mean, units) + " at " +
           place_text(rim.thickest_at, units) + ": computed with as it lies";
}

std::string routed_band_words(const SurveyAnswer& answer, Units units) {
    if (!answer.band) return {};
    const RoutedBand& band = *answer.band;
    const bool is_sag = band.check.starts_with("sag");
    return "Of ten floors that fit these readings nine have the sag as routed between " +
           fine(band.sag_mm.low, units) + " and " + fine(band.sag_mm.high, units) +
           (is_sag ? std::string() : ", and " + band.check) + (is_sag ? " (" : " between ") +
           utilisation_text(band.utilisation.low) + " and " + utilisation_text(band.utilisation.high) +
           " of what is allowed" + (is_sag ? ")" : "") + ". Wood and loads are as in the file.";
}

std::string gauge_next_words(const SurveyAnswer& answer, Units units) {
    if (!answer.next) return {};
    return place_text(answer.next->at, units) + " " + place_unit(units) + ": one reading there takes away " +
           percent_text(100 * answer.next->removes) + " of the variance that the readings leave in " +
           answer.next_for + ", more than anywhere else; the " +
           (answer.next->recess < 0 ? "board" : "skin") + " is known there to +/- " +
           thick(1.645 * answer.next->sd, units);
}

std::string survey_text(const Piece& piece, const SurveyAnswer& answer, const SurveyStory& story,
                        const TextStyle& style) {
    const Units units = style.units;
    Page page;
    page.heading(story.file + ", as it was routed");
    put_verdict(page, answer);
    page.paragraph(std::to_string(answer.survey.n_readings) + " readings of " + story.readings_file + ", " +
                   std::to_string(answer.survey.n_used) +
                   " used; standard deviation of one: " + fine(answer.survey.options.gauge_sd, units) +
                   (answer.survey.averaged ? "; of so many the means of neighbours are used" : "") + ".");
    for (const std::string& note : story.notes) page.paragraph(note, 0, Tone::faint);
    put_named(page, answer, units);
    page.blank();
    page.table({{.heading = ""},
                {.heading = "the limits"},
                {.heading = "used", .to_the_right = true},
                {.heading = "governs", .shrinks = true},
                {.heading = "sag", .to_the_right = true},
                {.heading = "allowed", .to_the_right = true},
                {.heading = "years", .to_the_right = true},
                {.heading = "dish", .to_the_right = true},
                {.heading = "weight", .to_the_right = true}},
               {check_row("as drawn", answer.drawn, units), check_row("as routed", answer.routed, units),
                check_row("low bound", answer.low, units)});
    if (answer.routed.result && !answer.routed.result->mesh.reached)
        page.paragraph("The mesh is not fine enough for all of this: sag within " +
                           error_text(answer.routed.result->mesh.sag_error_percent) + ", stresses within " +
                           error_text(answer.routed.result->mesh.stress_error_percent) + " (--mesh fine).",
                       0, Tone::bad);
    page.paragraph(
        "Low bound: every place as thin as the readings leave one chance in twenty for, all at once.", 0,
        Tone::faint);
    if (const std::string band = routed_band_words(answer, units); !band.empty()) page.paragraph(band);
    page.blank();
    put_recesses(page, piece, answer, units);
    put_places(page, answer, units);
    put_mends(page, answer, units);
    if (const std::string next = gauge_next_words(answer, units); !next.empty()) {
        page.blank();
        page.labelled("gauge next", next);
    }
    page.blank();
    for (const Message& caution : story.cautions) page.bullet(in_words(caution, units), Tone::faint);
    return page.text(style.coloured);
}

std::string sheet_text(const std::string& file, const Piece& piece, const std::vector<SheetPoint>& points,
                       const TextStyle& style) {
    const Units units = style.units;
    Page page;
    page.heading(file + ": places to gauge");
    page.paragraph("Write x, y, thickness a line into a text file, then: hollowtop survey " + file +
                   " FILE. Gauge a known block first, "
                   "and write down what the gauge is good for (--gauge). Add a reading wherever the light or "
                   "a finger finds a thin place.");
    for (const Recess& recess : piece.recesses)
        page.labelled(recess.name, "skin drawn " + thick(skin_of(recess, piece.top), units));
    page.labelled("rim", "board drawn " + thick(piece.top.thickness, units));
    page.blank();
    constexpr std::size_t across = 3;
    const std::size_t down = (points.size() + across - 1) / across;
    std::vector<Row> rows;
    for (std::size_t i = 0; i < down; ++i) {
        Row row{};
        for (std::size_t c = 0; c < across; ++c) {
            const std::size_t k = c * down + i;
            if (k >= points.size()) {
                row.cells.insert(row.cells.end(), {"", "", ""});
                continue;
            }
            row.cells.insert(row.cells.end(), {points[k].name, place_text(points[k].at, units), "_______"});
        }
        rows.push_back(std::move(row));
    }
    std::vector<Column> columns;
    for (std::size_t c = 0; c < across; ++c)
        for (const std::string& heading :
             {std::string("place"), std::string("x, y, ") + place_unit(units), std::string("found")})
            columns.push_back({.heading = heading});
    page.table(columns, rows);
    page.blank();
    page.paragraph("x from the left end, y from the front edge, seen from above: on the bench the top lies "
                   "on its face, and y runs from the "
                   "far side. " +
                       std::to_string(points.size()) + " places.",
                   0, Tone::faint);
    return page.text(style.coloured);
}

} // namespace hollowtop::cli
