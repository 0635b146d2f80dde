// SPDX-License-Identifier: MIT
#include "cli/report/survey_page.hpp"

#include "cli/report/drawing/field_picture.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "solver/piece/skin.hpp"
#include "solver/piece/version.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

constexpr double inch = 25.4;

/// What was found of a recess, or of the wood outside them.
struct Found {
    double drawn = 0;
    const SkinGrid &mean, &sd;
};

/// Values over the whole top: those of `of` in each recess that was gauged, and in the rim where it was; nought
/// elsewhere; lines on both sides of a wall.
template <class Value>
ValueGrid over_top(const Piece& piece, const Plan& plan, const Survey& survey, const Value& of) {
    ValueGrid grid;
    const Rectangle bounds = bounds_of_plan(plan);
    constexpr int steps = 180;
    constexpr double beside = 1e-3;
    const auto lines = [&](double from, double to, double length, bool x_way) {
        std::vector<double> all;
        const int n = std::max(20, static_cast<int>(std::lround(steps * (to - from) / length)));
        for (int k = 0; k <= n; ++k) all.push_back(from + (to - from) * k / n);
        for (const Hollow& hollow : plan.hollows) {
            const Rectangle b = bounds_of(hollow.loop);
            for (const double wall : {x_way ? b.x0 : b.y0, x_way ? b.x1 : b.y1})
                all.insert(all.end(), {wall - beside, wall + beside});
        }
        std::sort(all.begin(), all.end());
        return all;
    };
    const double longest = std::max(bounds.x1 - bounds.x0, bounds.y1 - bounds.y0);
    grid.x = lines(bounds.x0, bounds.x1, longest, true);
    grid.y = lines(bounds.y0, bounds.y1, longest, false);
    const ThicknessField field = thickness_field(piece, {}, false);
    for (const double y : grid.y)
        for (const double x : grid.x) {
            const int region = region_at(field, {x, y});
            if (region == full_thickness && survey.rim) {
                grid.value.push_back(
                    of(Found{survey.rim->drawn, survey.rim->found, survey.rim->found_sd}, Point{x, y}));
                continue;
            }
            const RecessSurvey* const one =
                region > full_thickness ? &survey.recesses[static_cast<std::size_t>(region - 1)] : nullptr;
            grid.value.push_back(
                one && one->n_readings > 0 ? of(Found{one->drawn, one->mean, one->sd}, Point{x, y}) : 0);
        }
    return grid;
}

FieldContent content_of(const ValueGrid& grid, Units units, std::string id, std::string title,
                        std::string description) {
    const auto [low, high] = std::minmax_element(grid.value.begin(), grid.value.end());
    const double factor = units == Units::mm ? 1 : 1 / inch;
    constexpr double least = 0.1; // mm: a floor as even as that shows one band
    FieldContent content{.id = std::move(id),
                         .title = std::move(title),
                         .description = std::move(description),
                         .unit = units == Units::mm ? "mm" : "in",
                         .levels =
                             even_levels(factor * std::min(0.0, *low), factor * std::max(least, *high), 7),
                         .decimals = units == Units::mm ? 2 : 3,
                         .factor = factor,
                         .peak = {},
                         .units = units};
    if (units == Units::mm && content.levels[1] - content.levels[0] > 0.0999) content.decimals = 1;
    content.figures = 0; // the lines crowd at the walls; the scale says what a colour is
    return content;
}

/// The situation that sags most at once, with its movement all over the top.
struct Sagged {
    const SituationResult* situation = nullptr;
    ValueGrid grid{};
};
std::optional<Sagged> sagged(const SurveyCheck& check, const std::optional<Fields>& fields) {
    if (!check.result || !fields) return std::nullopt;
    Sagged most;
    for (const SituationResult& s : check.result->situations)
        if (s.stage != Stage::years && (most.situation == nullptr || s.sag_mm > most.situation->sag_mm))
            most.situation = &s;
    if (most.situation == nullptr) return std::nullopt;
    const std::string name = "movement_mm, " + text_of(most.situation->name);
    for (const Fields::Named& named : fields->point_values)
        if (text_of(named.name) == name) most.grid = grid_of(fields->points, named.values);
    return most.grid.value.empty() ? std::nullopt : std::optional(std::move(most));
}

/// As drawn and as routed, in the same colours.
Markup sag_pictures(const Plan& plan, const SurveyAnswer& answer, Units units) {
    const auto drawn = sagged(answer.drawn, answer.drawn_fields),
               routed = sagged(answer.routed, answer.routed_fields);
    if (!drawn || !routed) return {};
    double low = 0, high = 0;
    for (const auto* one : {&*drawn, &*routed})
        for (const double v : one->grid.value)
            if (!std::isnan(v)) low = std::min(low, v), high = std::max(high, v);
    const double factor = units == Units::mm ? 1 : 1 / inch;
    const std::vector<double> levels = even_levels(factor * low, factor * high, 8);
    Markup both;
    for (const auto& [name, one] : {std::pair{"drawn", &*drawn}, {"routed", &*routed}}) {
        const std::string label = reading_text(one->situation->sag_mm, units), as = std::string("as ") + name;
        both += figure(words("Sag " + as + ", in \u201c") + own(in_words(one->situation->name, units)) +
                           words("\u201d, seen from below: " + label + " at most (ringed)."),
                       [&, name = name, one = one](const std::string& end, double width) {
                           return field_picture(
                               plan, one->grid, width,
                               {.id = std::string("sag-") + name + end,
                                .title = "Sag " + as,
                                .description = "Contours of downward movement " + as + ", seen from below.",
                                .unit = units == Units::mm ? "mm" : "in",
                                .levels = levels,
                                .decimals = units == Units::mm ? 2 : 3,
                                .factor = factor,
                                .peak = Peak{.at = one->situation->sag_at, .label = label, .attributes = {}},
                                .figures = 1,
                                .units = units});
                       });
    }
    return both;
}

/// What the readings leave open, and where to gauge next.
Markup sureness(const SurveyAnswer& answer, Units units) {
    Markup all;
    if (const std::string band = routed_band_words(answer, units); !band.empty()) all += para(words(band));
    if (const std::string rim = rim_words(answer, units); !rim.empty())
        all += para(words("Rim: " + rim + "."));
    if (const std::string next = gauge_next_words(answer, units); !next.empty())
        all += para(words("Gauge next " + next));
    return all;
}

std::string thick(double mm, Units units) {
    return units == Units::mm ? fixed(mm, 1) + " mm" : fixed(mm / inch, 3) + " in";
}

Markup checks_table(const SurveyAnswer& answer, Units units) {
    std::vector<TableRow> rows;
    for (const auto& [name, check] :
         {std::pair{"as drawn", &answer.drawn}, {"as routed", &answer.routed}, {"low bound", &answer.low}}) {
        TableRow row{.cells = {words(name)}, .kind = check->passes() ? "" : "over"};
        if (check->result) {
            const StudyRow& r = check->row;
            for (const std::string& cell :
                 {std::string(r.passes ? "meets them" : "does not"), utilisation_text(r.utilisation),
                  r.governing_check, reading_text(r.sag_mm, units),
                  r.sag_years_mm ? reading_text(*r.sag_years_mm, units) : std::string(),
                  r.dish_mm ? reading_text(*r.dish_mm, units) : std::string(), mass_text(r.mass_kg, units)})
                row.cells.push_back(words(cell));
        } else {
            row.cells.push_back(words("not computed: " + in_words(check->problem, units)));
            row.cells.resize(8);
        }
        rows.push_back(std::move(row));
    }
    return table("As drawn, as routed, and at the low bound of the readings",
                 {{"", false},
                  {"the limits", false},
                  {"used", true},
                  {"governs", false},
                  {"sag", true},
                  {"after years", true},
                  {"dish", true},
                  {"weight", true}},
                 rows);
}

Markup mends_table(const SurveyAnswer& answer, Units units) {
    std::vector<TableRow> rows;
    for (const Mend& mend : answer.mends) {
        const auto used_by = [](const SurveyCheck& check) {
            return check.result ? utilisation_text(check.row.utilisation) : std::string("not possible");
        };
        rows.push_back(
            {.cells = {own(mend_words(mend, units)),
                       words(mend.passes()          ? "meets them"
                             : mend.routed.passes() ? "not sure"
                                                    : "does not"),
                       words(used_by(mend.routed)), words(used_by(mend.low)),
                       words(mend.routed.result ? reading_text(mend.routed.row.sag_mm, units) : ""),
                       words(mend.routed.result ? mass_text(mend.routed.row.mass_kg, units) : "")},
             .kind = mend.passes() ? "" : "over"});
    }
    return table("What mends it, each by checks of its own",
                 {{"", false},
                  {"the limits", false},
                  {"used", true},
                  {"at the low bound", true},
                  {"sag", true},
                  {"weight", true}},
                 rows);
}

} // namespace

std::string survey_html(const Piece& piece, const SurveyAnswer& answer, const SurveyStory& story,
                        Units units) {
    const Plan plan = plan_of(piece);
    const ValueGrid under = over_top(piece, plan, answer.survey, [](const Found& found, Point p) {
        return found.drawn - thickness_in(found.mean, p);
    });
    const ValueGrid sd = over_top(piece, plan, answer.survey, [](const Found& found, Point p) {
        return 1.645 * thickness_in(found.sd, p);
    });
    const auto under_picture = [&](const std::string& end, double width) {
        FieldContent content = content_of(
            under, units, "under" + end, "Under the drawing",
            "How far skin and board are thinner than drawn, seen from below; the thinnest place is marked.");
        if (!answer.places.empty())
            content.peak = Peak{.at = answer.places.front().at,
                                .label = thick(answer.places.front().skin.mean, units) + " left",
                                .attributes = {}};
        return field_picture(plan, under, width, content);
    };
    const auto sd_picture = [&](const std::string& end, double width) {
        FieldContent content =
            content_of(sd, units, "sure" + end, "How sure",
                       "Half the width of the 90 per cent band of the thickness, seen from below.");
        if (answer.next)
            content.peak = Peak{.at = answer.next->at, .label = "gauge here next", .attributes = {}};
        return field_picture(plan, sd, width, content);
    };
    const auto places_picture = [&](const std::string& end, double width) {
        PlanContent content{.dimensions = false,
                            .depths = false,
                            .supports = true,
                            .sections = false,
                            .gauges = true,
                            .kept = false};
        constexpr std::size_t most = 80;
        std::size_t n = 0;
        const auto put = [&](const std::vector<Observed>& observed) {
            for (const Observed& reading : observed)
                if (n++ < most)
                    content.spots.push_back({reading.at, units == Units::mm
                                                             ? fixed(reading.value, 1)
                                                             : fixed(reading.value / inch, 3)});
        };
        if (answer.survey.rim) put(answer.survey.rim->observed);
        for (const RecessSurvey& one : answer.survey.recesses) put(one.observed);
        return plan_picture("places" + end, piece, plan, width, units, content);
    };
    const std::string unit = units == Units::mm ? "mm" : "in";
    Markup body =
        element("header", element("p", words(std::string("hollowtop ") + program_version + ", survey"),
                                  {{"class", "kind"}}) +
                              element("h1", own(piece.title.empty() ? story.file : piece.title)));
    Markup main =
        para(words(answer.passes()
                       ? "As routed this top meets the limits set, at the low bound of the readings too."
                   : answer.routed.passes() ? "As routed this top most likely meets the limits set, but the "
                                              "readings are not sure of it: at their low bound it does not."
                                            : "As routed this top does not meet the limits set."),
             "lead");
    main += checks_table(answer, units);
    main += para(
        words("Low bound: every place as thin as the readings leave one chance in twenty for, all at once. " +
              std::to_string(answer.survey.n_used) + " of " + std::to_string(answer.survey.n_readings) +
              " readings are used, each with a standard deviation of " +
              reading_text(answer.survey.options.gauge_sd, units) + "."));
    main += sureness(answer, units);
    if (const Markup sag = sag_pictures(plan, answer, units); !sag.html.empty())
        main += element("h2", words("How it sags")) + sag;
    const std::string what = answer.survey.rim ? "skin and board are" : "the skin is",
                      which = answer.survey.rim ? "each lies" : "the skin lies";
    main += element("h2", words("The wood as it was found"));
    main +=
        figure(words("How far " + what + " under the drawing, " + unit +
                     ", seen from below: the darker, the thinner. Less than nothing: thicker than drawn."),
               under_picture);
    main += figure(
        words("How sure that is: " + which + " within so much of it, " + unit + ", nine times of ten."),
        sd_picture);
    main += figure(
        words(
            "Where it was gauged, and what was found there, " + unit +
            "; seen from below, as the maps and as the top lies on the bench on its face: the front edge at "
            "the top, x from the left."),
        places_picture);
    if (!answer.survey.named.empty()) {
        std::vector<Markup> items;
        for (const NamedReading& one : answer.survey.named)
            items.push_back(words(
                (one.reading.line > 0 ? "line " + std::to_string(one.reading.line) + ", " : std::string()) +
                thick(one.reading.thickness, units) + " at " + place_text(one.reading.at, units) +
                (one.used ? ": " : ", not used: ") + in_words(one.why, units)));
        main += element("h2", words("Readings to look at")) + bullets(items);
    }
    if (!answer.places.empty()) {
        std::vector<TableRow> rows;
        for (const ThinPlace& place : answer.places)
            rows.push_back(
                {.cells = {words(place_text(place.at, units)), words(thick(place.skin.mean, units)),
                           words(thick(1.645 * place.skin.sd, units)),
                           words(thick(place.under_drawn, units))}});
        main += element("h2", words("Thin places")) + table("The thinnest first",
                                                            {{std::string("at, ") + place_unit(units), false},
                                                             {"skin", true},
                                                             {"+/- (90 %)", true},
                                                             {"under the drawing", true}},
                                                            rows);
    }
    main += element("h2", words("What mends it")) + mends_table(answer, units);
    std::vector<Markup> cautions;
    for (const Message& caution : story.cautions) cautions.push_back(words(in_words(caution, units)));
    main += element("h2", words("Cautions")) + bullets(cautions);
    body += element("main", main);
    return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
           "content=\"width=device-width, initial-scale=1\">\n<title>hollowtop: survey</title>\n<style>\n" +
           std::string(style_sheet) + "</style>\n</head>\n<body>\n" + body.html + "\n</body>\n</html>\n";
}

} // namespace hollowtop::cli
