// SPDX-License-Identifier: MIT
#include "cli/text/deepest_text.hpp"

#include "cli/json/message_json.hpp"
#include "cli/text/page.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "solver/checks/checks.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>

namespace hollowtop::cli {
namespace {

/// To a tenth of a millimetre: that is how finely it was sought.
std::string length_text(double mm, Units units) {
    return units == Units::mm ? fixed(mm, 1) + " mm" : fixed(Length::from_mm(mm).inches(), 3) + " in";
}

std::string moved_text(double mm, Units units) {
    return units == Units::mm ? fixed(mm, 2) + " mm" : fixed(Length::from_mm(mm).inches(), 3) + " in";
}

std::string problem_words(const ReachPoint& point, Units units) { return in_words(point.problem, units); }

std::string reasons(const ReachPoint& point, Units units) {
    if (!point.row) return problem_words(point, units);
    std::string text;
    for (const std::size_t i : exceeded(point))
        text += (text.empty() ? "" : ", ") + std::string(table_of_checks()[i].name) + " (" +
                utilisation_text(point.row->uses[i]) + ")";
    if (text.empty())
        text = "the skin dishes by more than half its thickness"; // the one verdict that no utilisation tells
    return text;
}

/// Every place of the scan would be a long table: some, evenly, and both sides of the answer.
std::vector<const ReachPoint*> some_of(const Farthest& answer) {
    constexpr std::size_t most = 14;
    std::vector<const ReachPoint*> some;
    const std::size_t n = answer.curve.size();
    double last_shown = -1e300;
    const double apart =
        n > 1 ? (answer.curve.back().measure - answer.curve.front().measure) / (most - 1) * 0.999 : 0;
    for (const ReachPoint& point : answer.curve) {
        const bool is_side = (answer.passing && point.measure == answer.passing->measure) ||
                             (answer.failing && point.measure == answer.failing->measure);
        if (!is_side && point.measure < last_shown + apart && &point != &answer.curve.back()) continue;
        some.push_back(&point);
        if (!is_side) last_shown = point.measure;
    }
    return some;
}

void put_curve(Page& page, const Farthest& answer, const DeepestStory& story, const TextStyle& style) {
    page.heading(story.widest ? "Rim, weight, sag and what is used hardest"
                              : "Depth, weight, sag and what is used hardest");
    std::vector<Row> rows;
    for (const ReachPoint* point : some_of(answer)) {
        Row row{.cells = {length_text(story.shown(point->measure), style.units),
                          length_text(story.skin(point->measure), style.units)},
                .tone = point->passes() ? Tone::plain : Tone::bad};
        if (const auto& r = point->row) {
            for (const std::string& cell :
                 {style.units == Units::mm ? fixed(r->mass_kg, 2) + " kg"
                                           : mass_text(r->mass_kg, style.units),
                  moved_text(r->sag_mm, style.units),
                  r->sag_years_mm ? moved_text(*r->sag_years_mm, style.units) : std::string(),
                  r->dish_mm ? moved_text(*r->dish_mm, style.units) : std::string(),
                  utilisation_text(r->utilisation), r->governing_check})
                row.cells.push_back(cell);
        } else {
            row.cells.insert(row.cells.end(), 5, "");
            row.cells.push_back("not possible: " + problem_words(*point, style.units));
        }
        const bool is_answer = answer.passing && point->measure == answer.passing->measure;
        row.cells.push_back(is_answer ? "<" : "");
        rows.push_back(std::move(row));
    }
    page.table({{.heading = story.widest ? "rim" : "depth", .to_the_right = true},
                {.heading = "skin", .to_the_right = true},
                {.heading = "weight", .to_the_right = true},
                {.heading = "sag", .to_the_right = true},
                {.heading = "years", .to_the_right = true},
                {.heading = "dish", .to_the_right = true},
                {.heading = "used", .to_the_right = true},
                {.heading = "governs", .shrinks = true},
                {.heading = ""}},
               rows);
}

} // namespace

std::vector<std::size_t> exceeded(const ReachPoint& point) {
    std::vector<std::size_t> checks;
    if (!point.row) return checks;
    const std::vector<double>& uses = point.row->uses;
    for (std::size_t i = 0; i < uses.size(); ++i)
        if (uses[i] > 1 &&
            (point.row->governing_check == table_of_checks()[i].name || uses[i] <= point.row->utilisation))
            checks.push_back(i); // advice may exceed
    std::stable_sort(checks.begin(), checks.end(),
                     [&](std::size_t a, std::size_t b) { return uses[a] > uses[b]; });
    return checks;
}

std::string deepest_text(const std::string& file, const Farthest& answer, const DeepestStory& story,
                         const TextStyle& style) {
    Page page;
    const auto length = [&](double mm) { return length_text(mm, style.units); };
    page.heading(file + ": how " + (story.widest ? "wide" : "deep") + " may " + story.subject + " be?");
    if (!answer.passing) {
        const ReachPoint& least = answer.curve.front();
        page.paragraph(story.widest ? "No width that was looked at meets the limits set, down to a rim of " +
                                          length(story.shown(least.measure)) + "."
                                    : "No depth that was looked at meets the limits set, not even " +
                                          length(story.shown(least.measure)) + ".",
                       0, Tone::bad);
        page.labelled("stopped by", reasons(least, style.units));
        page.paragraph("The limits must be met by other means first: a thicker top, a stiffener, other "
                       "supports, a lesser load.");
    } else if (!answer.failing) {
        page.paragraph((story.widest
                            ? "Every width that was looked at meets the limits set, as far as a rim of "
                            : "Every depth that was looked at meets the limits set, down to a skin of ") +
                           length(story.widest ? story.shown(answer.passing->measure)
                                               : story.skin(answer.passing->measure)) +
                           ".",
                       0, Tone::good);
        page.paragraph(story.widest ? "Further out it was not looked: --least-rim says how far. What ends "
                                      "the rim then is no strength of this model, but the legs, the "
                                      "router's base and the edge you want to see."
                                    : "Deeper it was not looked: --least-skin says how far. What ends the "
                                      "depth then is no strength of this model, but the router, the "
                                      "screws and what a thin skin has to bear in use.");
    } else {
        const double most = story.shown(answer.passing->measure);
        page.paragraph(story.widest ? "The rim may be as narrow as " + length(most) + "."
                                    : "Up to " + length(most) + " deep: that leaves a skin of " +
                                          length(story.skin(answer.passing->measure)) + ".",
                       0, Tone::good);
        page.labelled("at " + length(most), "meets the limits set; " + answer.passing->row->governing_check +
                                                " is used by " +
                                                utilisation_text(answer.passing->row->utilisation));
        page.labelled("at " + length(story.shown(answer.failing->measure)),
                      answer.failing->row ? "does not: " + reasons(*answer.failing, style.units)
                                          : "cannot be made: " + problem_words(*answer.failing, style.units),
                      Tone::bad);
    }
    for (const auto& [from, to] : answer.gaps)
        page.paragraph(
            "Mind: from " + length(story.shown(from)) + " to " + length(story.shown(to)) +
                " it does not meet them, though further on it does. A margin that turns so is a thin one.",
            0, Tone::bad);
    page.blank();
    put_curve(page, answer, story, style);
    page.blank();
    page.paragraph(
        in_words(said("Leave a margin for the board and the router: {} less board is {} less skin.",
                      amount(1, Unit::mm), amount(1, Unit::mm)),
                 style.units));
    page.blank();
    for (const Message& caution : story.cautions) page.bullet(in_words(caution, style.units), Tone::faint);
    return page.text(style.coloured);
}

std::string deepest_json(const std::string& title, const Farthest& answer, const DeepestStory& story) {
    using Json = nlohmann::ordered_json;
    const auto or_null = [](const std::optional<double>& value) {
        return value ? Json(*value) : Json(nullptr);
    };
    const auto point_of = [&](const ReachPoint& point) {
        Json out = {{story.widest ? "rim_mm" : "depth_mm", story.shown(point.measure)},
                    {"skin_mm", story.skin(point.measure)},
                    {"verdict", !point.row       ? "not possible"
                                : point.passes() ? "passes"
                                                 : "fails"}};
        if (!point.row) {
            out["problem"] = point.problem;
            return out;
        }
        const StudyRow& row = *point.row;
        out["mass_kg"] = row.mass_kg;
        out["sag_mm"] = row.sag_mm;
        out["sag_years_mm"] = or_null(row.sag_years_mm);
        out["dish_mm"] = or_null(row.dish_mm);
        out["frequency_Hz"] = or_null(row.frequency_Hz);
        out["governing"] = {{"check", row.governing_check},
                            {"situation", row.governing_situation},
                            {"utilisation", row.utilisation}};
        Json uses = Json::object();
        for (std::size_t i = 0; i < row.uses.size(); ++i)
            if (row.uses[i] >= 0) uses[table_of_checks()[i].name] = row.uses[i];
        out["utilisation"] = std::move(uses);
        return out;
    };
    Json curve = Json::array(), gaps = Json::array();
    for (const ReachPoint& point : answer.curve) curve.push_back(point_of(point));
    for (const auto& [from, to] : answer.gaps)
        gaps.push_back(Json::array({story.shown(from), story.shown(to)}));
    Json stopped_by = Json::array();
    const ReachPoint* stop = answer.failing                             ? &*answer.failing
                             : !answer.passing && !answer.curve.empty() ? &answer.curve.front()
                                                                        : nullptr;
    if (stop)
        for (const std::size_t i : exceeded(*stop)) stopped_by.push_back(table_of_checks()[i].name);
    const Json out = {{"hollowtop", 1},
                      {"title", title},
                      {"sought", story.widest ? "rim" : "depth"},
                      {"verdict", !answer.passing   ? "never passes"
                                  : !answer.failing ? "always passes"
                                                    : "found"},
                      {"passing", answer.passing ? point_of(*answer.passing) : Json(nullptr)},
                      {"failing", answer.failing ? point_of(*answer.failing) : Json(nullptr)},
                      {"stopped_by", stopped_by},
                      {"gaps_mm", gaps},
                      {"curve", curve},
                      {"cautions", story.cautions}};
    return out.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

} // namespace hollowtop::cli
